import { describe, expect, it } from "vitest";
import type { DecidedValue } from "../../src/columns/decided.ts";
import { spreadQuantile } from "../../src/engineering/pert-distribution.ts";
import { cents, type Day, day } from "../../src/quantity/si.ts";
import type { Uncertainty } from "../../src/reference/uncertainty.ts";
import { houseUncertainty } from "../../src/reference/uncertainty.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { workSoFar } from "../../src/season/selection/held-laterals.ts";
import { seasonProblem } from "../../src/season/selection/season-problem.ts";
import { trackProgress } from "../../src/season/tracking.ts";
import { type FinishOf, seasonUncertainty } from "../../src/season/uncertainty/season-uncertainty.ts";
import { textAt } from "../../src/sheet/table.ts";
import { chosenLiner, usBasis } from "../plan/examples.ts";
import { decidedTo, lateralRow, programTables, type Row, surveyRow } from "./examples.ts";
import { seasonRules } from "./season-examples.ts";

const SURE = { least: 1, best: 1, most: 1 };

/** The house table with nothing uncertain, changed as a test asks. */
function table(differs: {
  readonly productivity?: Uncertainty["time"]["own"];
  readonly ownTime?: Uncertainty["time"]["own"];
  readonly bias?: Uncertainty["time"]["own"];
  readonly ownLength?: Uncertainty["time"]["own"];
  readonly market?: Uncertainty["time"]["own"];
  readonly on?: Uncertainty["changes"]["on"];
  readonly weather?: Uncertainty["time"]["own"];
}): Uncertainty {
  const { time, length, price, changes, weather } = houseUncertainty;
  return {
    ...houseUncertainty,
    draws: 1000,
    time: { ...time, productivity: differs.productivity ?? SURE, own: differs.ownTime ?? SURE },
    length: { ...length, bias: differs.bias ?? SURE, own: differs.ownLength ?? SURE },
    price: { ...price, market: differs.market ?? SURE, ofClass: SURE },
    changes: { ...changes, together: SURE, on: differs.on ?? {} },
    weather: { ...weather, times: differs.weather ?? SURE },
  };
}

/** Full-length liners of 40 ft (USD 4,905: base 4,200 to 30 ft, 10 ft more at 70.50), root cutting, and one inspection. */
const city: readonly Row[] = [
  lateralRow("A1"),
  lateralRow("A2", { district: "Mill Creek" }),
  lateralRow("A3", { district: "Mill Creek" }),
  lateralRow("A4"),
  lateralRow("A5"),
];
const surveys = [
  surveyRow("A1", 4, 1, { structural_quick: "4332" }),
  surveyRow("A2", 4, 1, { structural_quick: "4332" }),
  surveyRow("A3", 4, 1, { structural_quick: "4332" }),
  surveyRow("A4", 1, 4),
];

const plan = (
  uncertainty: Uncertainty,
  laterals = city,
  decisions = new Map<string, ReadonlyMap<string, DecidedValue>>(),
) =>
  planProgram(
    { ...programTables(laterals, surveys), decisions },
    { ...usBasis, uncertainty },
    { problems: [], tallies: [] },
  );
const drawn = (uncertainty: Uncertainty, finishOf: FinishOf | null = null) =>
  seasonUncertainty(plan(uncertainty), {}, finishOf);

describe("a season in which nothing is uncertain", () => {
  it("costs and takes in every world what is planned, to the cent", () => {
    const found = drawn(table({}));
    const { totals } = plan(table({}));
    for (const key of ["planned", "mean", "p10", "p50", "p80", "p90"] as const)
      expect(found.program.cost[key]).toBeCloseTo(totals.program.cost, 5);
    expect(found.program.crewDays.p90).toBeCloseTo(
      totals.program.crewMinutes / usBasis.steps.shiftMinutes,
      9,
    );
    expect(found.contingency).toBeLessThan(0.01);
    expect(found.drivers).toEqual({ cost: [], time: [] });
  });
});

describe("what is shared", () => {
  it("moves all costs as the one factor does: P80 is the factor's own, in each district and in all", () => {
    const market = { least: 0.85, best: 1, most: 1.3 };
    const found = drawn(table({ market }));
    // A Latin hypercube of 1000 has a draw within a thousandth of probability; the factor's density there is above 1.
    for (const { cost } of [...found.districts, found.program])
      for (const [key, p] of [
        ["p10", 0.1],
        ["p50", 0.5],
        ["p80", 0.8],
        ["p90", 0.9],
      ] as const)
        expect(Math.abs(cost[key] / cost.planned - spreadQuantile("beta-PERT", market, p))).toBeLessThan(
          0.002,
        );
    expect(found.drivers.cost[0]).toMatchObject({ key: "market" });
    expect(found.drivers.cost[0]?.rho).toBeCloseTo(1, 12);
    expect(found.contingency / found.program.cost.planned).toBeCloseTo(
      spreadQuantile("beta-PERT", market, 0.8) - 1,
      2,
    );
  });

  it("does not average out over many laterals, and what is each lateral's own does", () => {
    const spread = { least: 0.6, best: 1, most: 1.8 };
    const many = Array.from({ length: 64 }, (_, i) => lateralRow(`B${i}`));
    // A lateral without a survey is inspected first: each takes the same time.
    const relative = (uncertainty: Uncertainty, laterals: readonly Row[]) => {
      const { crewDays } = seasonUncertainty(plan(uncertainty, laterals)).program;
      return (crewDays.p90 - crewDays.p10) / crewDays.mean;
    };
    const one = many.slice(0, 1);
    const shared = table({ productivity: spread });
    expect(relative(shared, many)).toBeCloseTo(relative(shared, one), 9);
    const own = table({ ownTime: spread });
    // Independent and alike: the spread of the mean of 64 is an eighth; within a fifth for the tails of a skewed one.
    expect(relative(own, many) * 8).toBeGreaterThan(relative(own, one) * 0.8);
    expect(relative(own, many) * 8).toBeLessThan(relative(own, one) * 1.2);
  });

  it("of a length found pays only what is beyond the included length, by hand", () => {
    // All lengths 1.1 of the plan: 44 ft, 14 ft beyond 30 at 70.50, so 4,200 + 987; roots of 44 ft at 12.00.
    const found = drawn(table({ bias: { least: 1.1, best: 1.1, most: 1.1 } }));
    const liner = 420_000 + 14 * 7_050;
    expect(found.districts[1]?.cost.p50).toBeCloseTo(2 * liner, 4);
    expect(found.districts[0]?.cost.p50).toBeCloseTo(liner + 44 * 1_200 + 35_000, 4);
  });
});

it("pays what a one-piece liner is longer than its included length by the lateral's own diameter, by hand", () => {
  // One of 40 ft, found 44 ft long: 6,800 with 30 ft included, 14 ft beyond at 91.50; its additional length has a price by size.
  const basis = {
    ...usBasis,
    uncertainty: table({ bias: { least: 1.1, best: 1.1, most: 1.1 } }),
    prices: {
      ...usBasis.prices,
      "additional one-piece length | 4 in": cents(9_150),
      "additional one-piece length": cents(1),
    },
    liners: {
      ...usBasis.liners,
      "one-piece": chosenLiner("one-piece, felt, polyester", "launched from the main"),
    },
  };
  const both = surveyRow("A1", 4, 1, { structural_quick: "4332", connection_grade: 4 });
  const program = planProgram(programTables([lateralRow("A1")], [both]), basis, {
    problems: [],
    tallies: [],
  });
  expect(textAt(program.laterals, "treatment", 0)).toBe("one-piece liner");
  expect(seasonUncertainty(program).program.cost.p50).toBeCloseTo(680_000 + 14 * 9_150, 4);
});

describe("another treatment on opening", () => {
  const on = {
    "full-length liner": {
      to: "open-cut replacement",
      chance: 0.25,
      foundGrade: 5,
      prices: "digging",
      byLength: true,
    },
  } as const;

  it("happens as often as its chance says, and costs what the other offer does", () => {
    const found = drawn(table({ on }));
    // Strips make each of the three change in exactly a quarter of the worlds.
    expect(found.meanChanged).toBeCloseTo(0.75, 9);
    expect(found.left.cannotChange).toBe(0);
    // Digging 40 ft of 4 in: 40·260.00, and 40 ft·trench width of street at 18.75 a square foot.
    const width = usBasis.treatments.openCut.trenchWidth / 0.3048;
    const dug = 40 * 26_000 + Math.round(40 * width * 100) * 18.75;
    const more = 3 * 0.25 * (dug - 490_500);
    // Within 5 cents: every extension is rounded to the cent.
    expect(found.program.cost.mean).toBeCloseTo(found.program.cost.planned + more, -1);
  });

  it("is none where the rules offer the other treatment in no case, and that is counted", () => {
    const found = seasonUncertainty(
      plan(table({ on: { "full-length liner": { ...on["full-length liner"], foundGrade: 2 } } })),
    );
    expect(found.left.cannotChange).toBe(3);
    expect(found.meanChanged).toBe(0);
  });
});

describe("what is done", () => {
  it("is certain at what it cost, and what is refused is left out", () => {
    const decisions = decidedTo({
      A2: { status: "accepted", installed_cost: 500_000 },
      A3: { status: "refused" },
    });
    const found = seasonUncertainty(
      plan(table({ market: { least: 0.8, best: 1, most: 1.5 } }), city, decisions),
    );
    expect(found.districts[1]?.cost).toMatchObject({ p10: 500_000, p90: 500_000, planned: 500_000 });
    expect(found.left).toMatchObject({ done: 1, refused: 1 });
  });
});

describe("what is begun", () => {
  const tracked = (spent: number, status = "measured") => {
    const decisions = decidedTo({ A2: { status, installed_cost: spent } });
    return plan(table({ market: { least: 0.8, best: 1, most: 1.5 } }), city, decisions);
  };

  it("has what is spent on it for certain, and only the rest may turn out otherwise, by hand", () => {
    // A2 and A3 are liners of 4,905; 981 is a fifth of one.
    const [, mill] = seasonUncertainty(tracked(98_100)).districts;
    const [, fresh] = seasonUncertainty(
      plan(table({ market: { least: 0.8, best: 1, most: 1.5 } })),
    ).districts;
    expect(mill!.cost.planned).toBe(2 * 490_500);
    for (const key of ["p10", "p90"] as const)
      expect(mill!.cost[key] - 98_100).toBeCloseTo((fresh!.cost[key] * 1.8) / 2, 4);
    // Under way with nothing spent on it, too: as the season and progress count.
    for (const spent of [0, 98_100]) expect(seasonUncertainty(tracked(spent)).left.begun).toBe(1);
    // Its cleaning of 63 min (see the walkthrough) is over.
    expect(fresh!.crewDays.planned - mill!.crewDays.planned).toBeCloseTo(63 / usBasis.steps.shiftMinutes, 9);
  });

  it("tells the same budget as the season: spent, and still to be spent, also where more is spent than was planned", () => {
    const rules = seasonRules();
    for (const spent of [0, 98_100, 600_000]) {
      const program = tracked(spent);
      const { problem, planned, spent: gone } = seasonProblem(program, rules, workSoFar(program));
      const toSpend = planned.reduce((sum, j) => sum + (j < 0 ? 0 : problem.cost[j]!), 0);
      const found = seasonUncertainty(program).program.cost;
      expect(found.planned, String(spent)).toBe(gone + toSpend);
      const { program: progress } = trackProgress(program);
      expect(found.planned).toBe(progress.spent + progress.stillToSpend);
    }
  });
});

describe("draws", () => {
  it("are the same for the same seed in whatever order the rows are, and others for another", () => {
    const one = seasonUncertainty(plan(houseUncertainty));
    const shuffled = seasonUncertainty(plan(houseUncertainty, [...city].reverse()));
    // Only the order of the sums differs.
    for (const key of ["mean", "p10", "p80"] as const)
      expect(shuffled.program.cost[key]).toBeCloseTo(one.program.cost[key], 3);
    expect(seasonUncertainty(plan(houseUncertainty))).toEqual(one);
    expect(seasonUncertainty(plan(houseUncertainty), { seed: 2 }).program.cost.p80).not.toBe(
      one.program.cost.p80,
    );
  });

  it("of the districts are those of the program: means add up, world by world", () => {
    const found = seasonUncertainty(plan(houseUncertainty));
    const sum = found.districts.reduce((total, { cost }) => total + cost.mean, 0);
    expect(sum).toBeCloseTo(found.program.cost.mean, 3);
    // Shared draws: districts are dear together, so the P90 of the sum is near the sum of the P90s, and not above it by more than noise.
    const p90s = found.districts.reduce((total, { cost }) => total + cost.p90, 0);
    expect(found.program.cost.p90).toBeLessThan(p90s * 1.001);
    expect(found.program.cost.p90).toBeGreaterThan(p90s * 0.9);
  });

  it("through the triangular of the same points come to more: both are shown", () => {
    const found = seasonUncertainty(plan(houseUncertainty));
    expect(found.shape).toBe("beta-PERT");
    expect(found.otherShape.shape).toBe("triangular");
    expect(found.otherShape.mean).toBeGreaterThan(found.program.cost.mean);
  });
});

describe("the finish", () => {
  it("is asked of the calendar given, world by world, with crew time and weather over the plan", () => {
    const start = 20_000;
    /** Ten days a district as planned, one after another; a day more for each whole factor of weather over one. */
    const finishOf: FinishOf = (times, weather) => {
      let at = start + Math.floor(weather) - 1;
      const districts = new Map<string, Day | null>();
      for (const [district, factor] of times) {
        at += Math.round(10 * factor);
        districts.set(district, at > start + 22 ? null : day(at));
      }
      return { districts, program: [...districts.values()].at(-1)! };
    };
    const sure = drawn(table({}), finishOf);
    expect(sure.program.finish).toEqual({
      planned: start + 20,
      plannedHolds: 1,
      p10: start + 20,
      p50: start + 20,
      p80: start + 20,
      p90: start + 20,
      inSeason: 1,
    });
    const wet = drawn(table({ weather: { least: 2, best: 2, most: 2 } }), finishOf);
    expect(wet.program.finish?.p50).toBe(start + 21);
    // Twice the time: 40 days, after the season of 22.
    const slow = drawn(table({ productivity: { least: 2, best: 2, most: 2 } }), finishOf);
    expect(slow.program.finish).toMatchObject({ p50: null, inSeason: 0 });
    expect(drawn(table({})).program.finish).toBeNull();
  });
});
