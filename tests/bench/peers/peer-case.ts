import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Gathered } from "../../../src/commands/load-program.ts";
import type { Condition } from "../../../src/plan/condition.ts";
import { readCondition } from "../../../src/plan/condition.ts";
import { readEffluent } from "../../../src/plan/effluent.ts";
import { scoreRisk } from "../../../src/plan/risk.ts";
import { designWalls } from "../../../src/plan/walls.ts";
import { dateOf } from "../../../src/quantity/calendar.ts";
import type { FittedBasis } from "../../../src/season/fits.ts";
import { openLaterals } from "../../../src/season/lateral-at.ts";
import { rankLaterals } from "../../../src/season/rank.ts";
import { numberAt, type Table, textAt, withColumns } from "../../../src/sheet/table.ts";

export type GatheredCity = Extract<Gathered, { ok: true }>;

/** What the program and its peer both work out: of each lateral, and of each district. */
export interface Scope {
  readonly conditions: readonly Condition[];
  readonly risk: Float64Array;
  readonly rank: Float64Array;
  /** Calculated wall and stocked wall, mm; NaN where no liner was asked for or none fits. */
  readonly wall: Float64Array;
  readonly stocked: Float64Array;
}

/** The program's own stages for what the peer does: condition, risk, walls, ranks. The whole plan has many more. */
export function workOutScope({ tables }: GatheredCity, basis: FittedBasis): Scope {
  const { rows } = tables.laterals;
  const numbers = () => new Float64Array(new SharedArrayBuffer(rows * 8)).fill(Number.NaN);
  const [risk, structural, om, wall, stocked] = [numbers(), numbers(), numbers(), numbers(), numbers()];
  const laterals = openLaterals(tables);
  const conditions: Condition[] = [];
  const { surveyTooOldYears, joinSurveysWithinDays } = basis.treatments.thresholds;
  const { asOf } = basis.program;
  for (let row = 0; row < rows; row++) {
    const lateral = laterals(row);
    const condition = readCondition(lateral, asOf, surveyTooOldYears, joinSurveysWithinDays);
    conditions.push(condition);
    risk[row] =
      scoreRisk(lateral, condition, basis.risk, basis.assumptions, asOf, basis.scores).score ?? Number.NaN;
    structural[row] = condition.structural?.value ?? Number.NaN;
    om[row] = condition.om?.value ?? Number.NaN;
    const full = designWalls(lateral, condition, readEffluent(lateral, basis), basis)["full-length"];
    // A connection alone asks for walls too, but for no full-length one.
    if (full.kind !== "designed") continue;
    wall[row] = full.worst.design.wall;
    stocked[row] = full.specified.stocked;
  }
  const column = (values: Float64Array) => ({ kind: "number" as const, values });
  const { rank } = rankLaterals(
    withColumns(tables.laterals, [
      ["risk", column(risk)],
      ["structural_grade", column(structural)],
      ["om_grade", column(om)],
    ]),
  );
  return { conditions, risk, rank: rank.values, wall, stocked };
}

export interface DistrictFigures {
  laterals: number;
  lined: number;
  /** Feet of host, in whole hundredths. */
  linedHundredths: number;
  wallMm: number;
  risk: number;
}

export function totalScope(laterals: Table, { stocked, risk }: Scope): ReadonlyMap<string, DistrictFigures> {
  const districts = new Map<string, DistrictFigures>();
  for (let row = 0; row < laterals.rows; row++) {
    const name = textAt(laterals, "district", row);
    let each = districts.get(name);
    if (each === undefined) {
      each = { laterals: 0, lined: 0, linedHundredths: 0, wallMm: 0, risk: 0 };
      districts.set(name, each);
    }
    each.laterals++;
    each.risk += risk[row]!;
    if (Number.isNaN(stocked[row])) continue;
    each.lined++;
    each.linedHundredths += Math.round((numberAt(laterals, "host_length", row) / 0.3048) * 100);
    each.wallMm += stocked[row]!;
  }
  return districts;
}

export interface PeerCase {
  readonly file: string;
  readonly figures: string;
  readonly districts: string;
}

/** Writes what the peer needs: where the city's files are, the shared tables it reads, and the condition of each lateral. */
export async function writeCase(
  folder: string,
  city: string,
  shared: string,
  { tables }: GatheredCity,
  basis: FittedBasis,
  scope: Scope,
): Promise<PeerCase> {
  const table = async (name: string) => JSON.parse(await readFile(join(shared, name), "utf8"));
  const lines = scope.conditions.map((condition, row) =>
    [
      textAt(tables.laterals, "lateral", row),
      condition.structural?.value ?? "",
      condition.om?.value ?? "",
      condition.ovality?.value ?? "",
    ].join(","),
  );
  const condition = join(folder, "condition.csv");
  await writeFile(condition, `lateral,structural,om,ovality\n${lines.join("\n")}\n`);

  const settings = JSON.parse(await readFile(join(city, "program.json"), "utf8"));
  const criteria = await table("design-criteria.json");
  const live = await table("live-loads.json");
  const keyed = (list: readonly { readonly key: string }[], key: string) =>
    list.find((each) => each.key === key);
  const design = keyed(criteria.sets, settings.criteria.design) as unknown as {
    readonly impactTable: string;
  };
  const found: PeerCase = {
    file: join(folder, "case.json"),
    figures: join(folder, "figures.csv"),
    districts: join(folder, "districts.csv"),
  };
  await writeFile(
    found.file,
    JSON.stringify({
      laterals: join(city, settings.laterals.file),
      inspections: join(city, settings.inspections.file),
      condition,
      year: dateOf(basis.program.asOf).year,
      risk: await table("risk.json"),
      design,
      surfaceWheels: criteria.surfaceWheels.values,
      system: keyed((await table("liner-systems.json")).systems, settings.criteria.liner_system),
      live: {
        loadedLength: live.loadedLength.metres,
        impact: live.impact[design.impactTable].steps,
        wheels: Object.fromEntries(
          Object.entries(live.wheels.values).map(([name, wheel]) => [
            name,
            (wheel as { readonly newtons: number }).newtons,
          ]),
        ),
      },
      leastOvality: (await table("assumptions.json")).values.ovality.value,
      lineFrom: basis.treatments.thresholds.lineFromStructural,
      figures: found.figures,
      districts: found.districts,
    }),
  );
  return found;
}

/** The largest difference of a wall that both work out, mm: the peer's search for the worst cover ends a little sooner. */
export const WALL_TOLERANCE = 1e-6;

export interface Agreement {
  readonly laterals: number;
  readonly walls: number;
  /** Laterals with another rank, another stocked wall, or a wall in one and none in the other. */
  readonly otherRank: number;
  readonly otherStocked: number;
  /** Largest difference of a calculated wall, mm, and of a score. */
  readonly wall: number;
  readonly score: number;
  /** Districts with another count, length, sum of walls or sum of scores. */
  readonly otherDistricts: number;
}

export async function compareWithPeer(
  peer: PeerCase,
  laterals: Table,
  scope: Scope,
  totals: ReadonlyMap<string, DistrictFigures>,
): Promise<Agreement> {
  const rowOf = new Map(
    Array.from({ length: laterals.rows }, (_, row) => [textAt(laterals, "lateral", row), row] as const),
  );
  const lines = await csvOf(peer.figures);
  if (lines.length !== laterals.rows)
    throw new RangeError(`the peer has ${lines.length} laterals and the program ${laterals.rows}`);
  const found = { walls: 0, otherRank: 0, otherStocked: 0, wall: 0, score: 0 };
  for (const [id, rank, risk, wall, stocked] of lines) {
    const row = rowOf.get(id!);
    if (row === undefined) throw new RangeError(`the peer has a lateral ${id} that the program has not`);
    if (Number(rank) !== scope.rank[row]) found.otherRank++;
    found.score = Math.max(found.score, Math.abs(Number(risk) - scope.risk[row]!));
    const theirs = stocked === "" ? Number.NaN : Number(stocked);
    if (!Object.is(theirs, scope.stocked[row])) found.otherStocked++;
    if (wall === "" || Number.isNaN(scope.wall[row])) continue;
    found.walls++;
    found.wall = Math.max(found.wall, Math.abs(Number(wall) - scope.wall[row]!));
  }
  const districts = await csvOf(peer.districts);
  let otherDistricts = Math.abs(districts.length - totals.size);
  for (const [name, count, lined, length, wallMm, risk] of districts) {
    const ours = totals.get(name!);
    const same =
      ours !== undefined &&
      Number(count) === ours.laterals &&
      Number(lined) === ours.lined &&
      Math.round(Number(length) * 100) === ours.linedHundredths &&
      Math.abs(Number(wallMm) - ours.wallMm) < 1e-6 &&
      // Sums of many scores differ in their last digits by the order in which they are added.
      Math.abs(Number(risk) - ours.risk) < 1e-9 * Math.max(1, ours.risk);
    if (!same) otherDistricts++;
  }
  return { laterals: lines.length, ...found, otherDistricts };
}

/** Plain numbers and names without commas, with a row of headings. */
const csvOf = async (path: string): Promise<readonly (readonly string[])[]> =>
  (await readFile(path, "utf8"))
    .trimEnd()
    .split(/\r?\n/)
    .slice(1)
    .map((line) => line.split(","));
