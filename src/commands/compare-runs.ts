import type { treatmentKinds } from "../columns/plan-columns.ts";
import { basisForSettings } from "../program/basis-for-settings.ts";
import { readSettingsText } from "../program/settings.ts";
import { faultProblem } from "../program/settings-faults.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { Run } from "../program/snapshot-schema.ts";
import type { Problem } from "../quantity/problem.ts";
import type { RankedLateral } from "../season/compare-rankings.ts";
import { mixTables } from "../season/mixed-tables.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { Progress } from "../season/plan-sheet.ts";
import { sheetLaterals } from "../season/plan-tables.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { rankLaterals } from "../season/rank.ts";
import { rescoreSheet } from "../season/rescored-program.ts";
import { restoreTables, type SavedTables, saveTables } from "../season/saved-tables.ts";
import { type ExplainedMoves, explainMoves } from "../season/why-moved.ts";
import type { Table } from "../sheet/table.ts";
import { planAlike } from "./basis-data.ts";
import { fitInThreads } from "./fit-in-threads.ts";
import { planInThreads } from "./plan-in-threads.ts";
import { PlanThread } from "./plan-thread.ts";
import { prepareBasis } from "./prepare-basis.ts";
import { BYTES_A_LATERAL } from "./second-thread.ts";
import { rankingOf } from "./take-run.ts";

/** A run with the name people call it by. */
export interface NamedRun {
  readonly name: string;
  readonly run: Run;
}

/** Inputs that change together when a run is compared with another; recipe changes stand apart from data changes. */
export const inputGroups = [
  "inspections",
  "lateral file",
  "decisions",
  "recipe and settings",
  "as-of date",
] as const;
export type InputGroup = (typeof inputGroups)[number];

export interface RunComparison extends ExplainedMoves {
  readonly from: NamedRun;
  readonly to: NamedRun;
  /** In the order of the shares. */
  readonly changed: readonly InputGroup[];
  /** Keys of program.json whose values differ, such as `criteria.risk`. */
  readonly changedSettings: readonly string[];
  /** How many laterals are selected: the first so many with paid work. */
  readonly top: number;
  /** Laterals that this version ranks or treats otherwise than the one that saved the run did: by name of the run. */
  readonly rankedOtherwise: ReadonlyMap<string, number>;
  readonly tables: { readonly before: ProgramTables; readonly after: ProgramTables };
}

export type Compared =
  | { readonly ok: true; readonly comparison: RunComparison }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Compares two runs, planning both of them and every mixture of the inputs that changed with this version of the
 * program: 2ⁿ plans for n groups of inputs.
 *
 * @param top laterals that count as selected; null for one in ten
 */
export async function compareRuns(
  from: NamedRun,
  to: NamedRun,
  top: number | null,
  progress: Progress = () => {},
): Promise<Compared> {
  const settings = [settingsOf(from), settingsOf(to)] as const;
  const problems = settings.flatMap((reading) => (reading.ok ? [] : reading.problems));
  const [old, fresh] = settings;
  if (!old.ok || !fresh.ok) return { ok: false, problems };
  const before = restoreTables(from.run.values);
  const after = restoreTables(to.run.values);
  const changedSettings = differingKeys(recipeOf(old.settings), recipeOf(fresh.settings));
  const differs: Readonly<Record<InputGroup, boolean>> = {
    inspections: surveysDiffer(from.run.values, to.run.values, before, after),
    "lateral file": !isSame(from.run.values.laterals, to.run.values.laterals),
    decisions: !isSame(from.run.values.decisions, to.run.values.decisions),
    "recipe and settings": changedSettings.length > 0,
    "as-of date": from.run.as_of !== to.run.as_of,
  };
  const changed = inputGroups.filter((group) => differs[group]);
  const selected = top ?? Math.max(1, Math.ceil(Math.max(before.laterals.rows, after.laterals.rows) / 10));

  const prepared = new Map<string, PreparedBasis>();
  for (const [recipe, of] of [
    ["old", old.settings],
    ["fresh", fresh.settings],
  ] as const) {
    for (const asOf of new Set([from.run.as_of, to.run.as_of])) {
      const basis = await prepareBasis(basisForSettings({ ...of, as_of: asOf }));
      if (!basis.ok) {
        // The settings of a saved run stand in no file of their own, so a fault has no better place than its start.
        return {
          ok: false,
          problems: basis.faults.map((fault) => faultProblem(fault, () => ({ line: 1, column: 1 }))),
        };
      }
      prepared.set(`${recipe} ${asOf}`, basis.basis);
    }
  }

  const plans = 1 << changed.length;
  let asked = 0;
  const rankedOtherwise = new Map<string, number>();
  const ranker = new Ranker(after.laterals.rows);
  const explained = await explainMoves(changed.length, async (mask) => {
    const isNew = (group: InputGroup) => {
      const bit = changed.indexOf(group);
      return bit >= 0 && ((mask >> bit) & 1) === 1;
    };
    const pick = <T>(group: InputGroup, one: T, other: T): T => (isNew(group) ? other : one);
    const recipe = pick("recipe and settings", "old", "fresh");
    const asOf = pick("as-of date", from.run.as_of, to.run.as_of);
    const base = asked++;
    const basis = prepared.get(`${recipe} ${asOf}`);
    if (basis === undefined) throw new RangeError(`compareRuns: no basis for ${recipe} ${asOf}`);
    const tables = [
      pick("lateral file", before, after),
      pick("inspections", before, after),
      pick("decisions", before, after),
    ] as const;
    const ranking = await ranker.rank(tables, basis, (done, of) => progress(base * of + done, plans * of));
    if (mask === 0) noteOtherwise(rankedOtherwise, from, ranking);
    if (mask === plans - 1) noteOtherwise(rankedOtherwise, to, ranking);
    return selectedRanking(ranking, selected);
  }).finally(() => ranker.end());
  return {
    ok: true,
    comparison: {
      ...explained,
      from,
      to,
      changed,
      changedSettings,
      top: selected,
      rankedOtherwise,
      tables: { before, after },
    },
  };
}

/** What a mixture is made of: whose laterals, whose surveys, whose decisions. */
type Mixed = readonly [given: ProgramTables, surveyed: ProgramTables, decided: ProgramTables];

/** Ranks mixtures of two runs one after the other, a big city's on two threads; one with the plans of the last is only scored anew. */
class Ranker {
  readonly #second = new PlanThread();
  #last: (Pick<PlannedProgram, "tables" | "laterals"> & { of: Mixed; basis: PreparedBasis }) | null = null;

  constructor(laterals: number) {
    this.#second.startFor(laterals * BYTES_A_LATERAL);
  }

  async rank(of: Mixed, basis: PreparedBasis, progress: Progress): Promise<Run["ranking"]> {
    const last = this.#last?.of.every((tables, i) => tables === of[i]) === true ? this.#last : null;
    if (last !== null && planAlike(last.basis, basis)) {
      const laterals = rescoreSheet(last, basis);
      progress(1, 1);
      return rankedRun(laterals);
    }
    const tables = last?.tables ?? mixTables(...of);
    const fitted = await fitInThreads(tables, basis, this.#second);
    const { plan } = await planInThreads(tables, fitted, progress, "ranked totals", this.#second);
    const laterals = sheetLaterals(tables, plan.tables);
    this.#last = { of, tables, basis, laterals };
    return rankedRun(laterals);
  }

  end(): Promise<void> {
    return this.#second.end();
  }
}

const rankedRun = (laterals: Table): Run["ranking"] =>
  rankingOf({ laterals, order: rankLaterals(laterals).order });

/** Treatments nobody is paid to carry out in the season: they select nothing. */
const UNPAID: ReadonlySet<string> = new Set<(typeof treatmentKinds)[number]>([
  "inspect first",
  "leave and re-inspect",
]);

/** The ranked cut: down the list, the first so many with paid work. */
export function selectedRanking(
  { laterals, scores, treatments }: Run["ranking"],
  top: number,
): readonly RankedLateral[] {
  let left = top;
  return laterals.map((id, i) => {
    const selected = left > 0 && !UNPAID.has(treatments[i]!);
    if (selected) left--;
    return { id, score: scores[i] ?? null, selected };
  });
}

function noteOtherwise(into: Map<string, number>, { name, run }: NamedRun, now: Run["ranking"]): void {
  const { laterals, scores, treatments } = run.ranking;
  const otherwise = laterals.filter(
    (id, i) => id !== now.laterals[i] || scores[i] !== now.scores[i] || treatments[i] !== now.treatments[i],
  ).length;
  if (otherwise > 0) into.set(name, otherwise);
}

function settingsOf({ name, run }: NamedRun) {
  const reading = readSettingsText(new TextEncoder().encode(run.settings.text));
  if (reading.ok) return reading;
  return {
    ok: false,
    problems: reading.problems.map((problem) => ({ ...problem, file: `settings of the run ${name}` })),
  } as const;
}

/** Whether any lateral has other surveys: seen from the laterals of either run, so that new laterals alone do not count. */
function surveysDiffer(
  one: SavedTables,
  other: SavedTables,
  before: ProgramTables,
  after: ProgramTables,
): boolean {
  // Of the same laterals in the order of their ids, what is saved alike is alike: a fifth of the time of looking closer.
  const isOfSame = isSame(one.laterals.columns["lateral"], other.laterals.columns["lateral"]);
  if (isOfSame && isSame(surveysIn(one), surveysIn(other))) return false;
  return [before, after].some((given) => {
    const [old, fresh] = [mixTables(given, before, given), mixTables(given, after, given)];
    return !isSame(surveysIn(saveTables(old)), surveysIn(saveTables(fresh)));
  });
}

const surveysIn = ({ inspections, first_inspection, observations }: SavedTables) => ({
  inspections,
  first_inspection,
  observations,
});

/** The settings that say how to plan: not how the city's files are read, which shows in the data, and not the day, nor how it is printed. */
function recipeOf(settings: Settings): Readonly<Record<string, unknown>> {
  const {
    name: _name,
    as_of: _asOf,
    print: _print,
    laterals: _laterals,
    inspections: _inspections,
    added_inspections: _added,
    district_aliases: _aliases,
    words: _words,
    ...recipe
  } = settings;
  return recipe;
}

/** How deep into program.json a changed key is named. */
const DEPTH = 3;

function differingKeys(a: unknown, b: unknown, path: readonly string[] = []): readonly string[] {
  if (isSame(a, b)) return [];
  if (path.length === DEPTH || !isGroup(a) || !isGroup(b)) return [path.join(".")];
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) =>
    differingKeys(a[key], b[key], [...path, key]),
  );
}

const isGroup = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
