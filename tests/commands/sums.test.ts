import { beforeAll, describe, expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
import { planText } from "../../src/commands/plan.ts";
import { planAsJson } from "../../src/commands/plan-json.ts";
import { progressAsJson } from "../../src/commands/progress.ts";
import { lengthHundredths } from "../../src/plan/bid-lines.ts";
import { metres } from "../../src/quantity/si.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { takeOffByDistrict } from "../../src/season/takeoff.ts";
import { SAMPLES } from "./sample-copy.ts";

// What the programme says of districts is checked as it leaves the program: JSON, and the tables people read. Money is whole cents,
// lengths hundredths of the bid's unit, resin mL, crew time minutes and hundredths of a crew-day, flows µL/s, losses cents.

type Json = number | string | null | boolean | { readonly [key: string]: Json } | readonly Json[];

/** Every number below here with the way to it: `cost`, `bidLines > full-length liner | 4 in`. */
function numbersIn(value: Json, path = ""): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  if (typeof value === "number") found.set(path, value);
  else if (typeof value === "object" && value !== null)
    for (const [key, each] of Object.entries(value))
      for (const [at, number] of numbersIn(each, path === "" ? key : `${path} > ${key}`))
        found.set(at, number);
  return found;
}

function expectToAddUp(districts: readonly Json[], program: Json): number {
  const all = numbersIn(program);
  const sums = new Map<string, number>();
  for (const district of districts)
    for (const [path, number] of numbersIn(district)) {
      expect(Number.isSafeInteger(number), `${path} is whole: ${number}`).toBe(true);
      sums.set(path, (sums.get(path) ?? 0) + number);
    }
  for (const path of new Set([...all.keys(), ...sums.keys()]))
    expect(sums.get(path) ?? 0, path).toBe(all.get(path) ?? 0);
  return all.size;
}

describe.each(["quennock-falls", "kaltwendel"])("the totals of %s", (sample) => {
  let program: PlannedProgram;
  // biome-ignore lint/suspicious/noExplicitAny: JSON as other programs read it.
  let json: any;
  beforeAll(async () => {
    const loaded = await loadProgram(`${SAMPLES}${sample}`);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    program = loaded.program;
    json = JSON.parse(JSON.stringify(planAsJson(program)));
  }, 60_000);

  it("of districts are those of the program, figure by figure, to the last cent, hundredth and millilitre", () => {
    const figures = expectToAddUp(json.districts, json.totals);
    // Laterals, treatments, length by diameter, liners by wall, resin, seals, crew-days by crew, cost and its parts, bid lines.
    expect(figures).toBeGreaterThan(40);
    expect(expectToAddUp(json.breakdown_by_district, json.breakdown)).toBeGreaterThan(8);
    const progress = progressAsJson(program, { budget: null, mobilization: 0 });
    expectToAddUp(progress.districts, progress.program);
  });

  it("are those of the laterals one by one", () => {
    const sum = (district: string | null, of: (lateral: Record<string, number | null>) => number) =>
      json.laterals
        .filter(
          (each: { district: string | null }) => district === null || (each.district ?? "") === district,
        )
        .reduce((total: number, each: Record<string, number | null>) => total + of(each), 0);
    const { units } = program.basis.program;
    for (const totals of [...json.districts, { ...json.totals, district: null }]) {
      const of = (what: (lateral: Record<string, number | null>) => number) => sum(totals.district, what);
      expect(totals.laterals).toBe(of(() => 1));
      expect(totals.cost).toBe(of(({ cost }) => cost ?? 0));
      expect(totals.crewMinutes).toBe(of(({ crew_minutes }) => crew_minutes ?? 0));
      const lengths = Object.values<number>(totals.linerLengthByDiameter).reduce((a, b) => a + b, 0);
      expect(lengths).toBe(
        of(({ liner_length }) =>
          liner_length === null ? 0 : lengthHundredths(metres(liner_length!), units),
        ),
      );
      expect(totals.cityCost + totals.ownerCost + totals.undivided).toBe(totals.cost);
      const crews = Object.values<number>(totals.crewMinutesByCrew).reduce((a, b) => a + b, 0);
      expect(crews).toBe(totals.crewMinutes);
      // Rounded once of all minutes, of the 480 of a shift: half a hundredth at most.
      expect(Math.abs(totals.crewDayHundredths - (totals.crewMinutes * 100) / 480)).toBeLessThanOrEqual(0.5);
      const treated = Object.values<number>(totals.byTreatment).reduce((a, b) => a + b, 0);
      expect(treated).toBe(totals.laterals);
    }
    for (const of of [...json.breakdown_by_district, json.breakdown]) {
      const cost = Object.values<number>(of.costByItem).reduce((a, b) => a + b, 0);
      const totals =
        of === json.breakdown
          ? json.totals
          : json.districts.find((each: { district: string }) => each.district === of.district);
      expect(cost).toBe(totals.cost);
      const water = sum(of === json.breakdown ? null : of.district, ({ infiltration }) => infiltration ?? 0);
      // Half a µL/s a lateral, from L/s to whole µL/s.
      expect(Math.abs(of.infiltration.before - water * 1e6)).toBeLessThanOrEqual(totals.laterals / 2);
    }
  });

  it("of materials: what is used adds up, item by item", () => {
    const takeoff = takeOffByDistrict(program, program.basis);
    expect(takeoff.program.lines.length).toBeGreaterThan(0);
    expect(takeoff.program.resins.length).toBeGreaterThan(0);
    for (const { item, variant, use } of takeoff.program.lines) {
      const own = takeoff.districts.flatMap(({ lines }) =>
        lines.filter((line) => line.item === item && line.variant === variant),
      );
      expect(own.reduce((sum, line) => sum + line.use, 0)).toBe(use);
    }
    for (const { resin, batches, components } of takeoff.program.resins) {
      const own = takeoff.districts.flatMap(({ resins }) => resins.filter((each) => each.resin === resin));
      expect(own.reduce((sum, each) => sum + each.batches, 0)).toBe(batches);
      for (const { component, grams } of components)
        expect(
          own
            .flatMap((each) => each.components.filter((part) => part.component === component))
            .reduce((sum, part) => sum + part.grams, 0),
        ).toBe(grams);
    }
  });

  it("add up as they are printed, column by column, in the units people read", () => {
    const lines = planText(program).split("\n");
    const tables = lines.flatMap((line, at) =>
      /^District +(Laterals|\S+ )/.test(line) &&
      /^Program/.test(lines.slice(at).find((each) => /^Program/.test(each)) ?? "")
        ? [at]
        : [],
    );
    let columns = 0;
    for (const at of tables) {
      // A column ends where its rule does.
      const ends = [...lines[at + 1]!.matchAll(/─+/g)].map(
        ({ index, 0: rule }) => [index, index + rule.length] as const,
      );
      const end = lines.findIndex((line, i) => i > at && line.startsWith("Program"));
      const heading = lines[at]!;
      if (/Containers/.test(heading)) continue;
      const cells = (line: string) =>
        ends.slice(1).map(([from, to]) => line.slice(from, to).trim().replaceAll(",", "").replace("*", ""));
      const steps = (text: string) => Math.round(Number(text) * 100);
      const rows = lines.slice(at + 2, end - 1).map(cells);
      for (const [i, total] of cells(lines[end]!).entries()) {
        if (!/^-?[\d.]+$/.test(total)) continue;
        const sum = rows.reduce((all, row) => all + steps(row[i]!), 0);
        expect(sum, `${heading.slice(...ends[i + 1]!).trim()} of ${sample}`).toBe(steps(total));
        columns++;
      }
    }
    expect(columns).toBeGreaterThan(20);
  });
});
