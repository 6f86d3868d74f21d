import { describe, expect, it } from "vitest";
import type { TreatmentKind } from "../../src/columns/plan-columns.ts";
import { chooseTreatment, type Worth } from "../../src/plan/choice.ts";
import { stated } from "../../src/plan/stated.ts";
import type { Verdict } from "../../src/plan/verdicts.ts";
import { cents, fraction } from "../../src/quantity/si.ts";
import { city, lateral } from "./examples.ts";

const order: readonly TreatmentKind[] = [
  "inspect first",
  "sectional liner",
  "full-length liner",
  "open-cut replacement",
];
const allowed = (treatment: TreatmentKind, differs: Partial<Verdict> = {}): Verdict => ({
  treatment,
  eligible: true,
  againstRules: false,
  reasons: [],
  first: [],
  ...differs,
});
const sure = (p: number) => ({ least: fraction(p), best: fraction(p), most: fraction(p) });

/** An offer at a cost, with its present worth and the failures still expected; nulls where they are not known. */
const offer = (
  treatment: TreatmentKind,
  total: number | null,
  presentWorth: number | null,
  failures: number | null,
): Worth => ({
  treatment,
  cost: { total: total === null ? null : cents(total) },
  life: { years: 50, presentWorth: presentWorth === null ? null : cents(presentWorth) },
  after: {
    shares: { structural: sure(1), blockage: sure(1), infiltration: sure(1) },
    infiltrationRemoved: null,
    money: failures === null ? null : { remaining: sure(failures), avoided: sure(0) },
  },
});
const section = offer("sectional liner", 220_000, 300_000, 150_000);
const full = offer("full-length liner", 400_000, 410_000, 20_000);
const openCut = offer("open-cut replacement", 900_000, 900_000, 10_000);
const offers = [section, full, openCut];
const verdicts = offers.map(({ treatment }) => allowed(treatment));

const decide = (treatment: TreatmentKind) => ({
  structuralGrade: null,
  omGrade: null,
  treatment: stated(treatment, "decided", "the neighbours dig too"),
});

describe("the plan's own choice", () => {
  it("by the order is the first of what is allowed, whatever it costs and however it is listed", () => {
    const { treatment, by, own, runnerUp, decisionCost } = chooseTreatment(
      lateral(),
      verdicts.toReversed(),
      offers,
      order,
      "order",
    );
    expect([treatment, by, own, decisionCost]).toEqual(["sectional liner", "plan", "sectional liner", 0]);
    // 410,000 + 20,000 less 300,000 + 150,000: the next in the order is even worth 20,000 more.
    expect(runnerUp).toEqual({ treatment: "full-length liner", more: 430_000 - 450_000 });
  });

  it("by present worth is the least of work, renewals and the failures still expected", () => {
    const choice = chooseTreatment(lateral(), verdicts, offers, order, "present worth");
    expect(choice.treatment).toBe("full-length liner");
    expect(choice.runnerUp).toEqual({ treatment: "sectional liner", more: 20_000 });
    expect(choice.reasons).toEqual([
      {
        code: "least total worth",
        worth: 430_000,
        loss: 20_000,
        runnerUp: { treatment: "sectional liner", worth: 450_000 },
      },
    ]);
  });

  it("of equal worth is the first in the order", () => {
    const same = offer("open-cut replacement", 1, 430_000, 0);
    const two = [allowed("open-cut replacement"), allowed("full-length liner")];
    expect(chooseTreatment(lateral(), two, [same, full], order, "present worth").treatment).toBe(
      "full-length liner",
    );
  });

  it("is by the order where one must be looked at first or has no price, and says which", () => {
    const look = offer("inspect first", 35_000, 35_000, 0);
    const first = chooseTreatment(
      lateral(),
      [...verdicts, allowed("inspect first")],
      [...offers, look],
      order,
      "present worth",
    );
    expect(first.treatment).toBe("inspect first");
    expect(first.reasons).toEqual([{ code: "order decides", because: "look first" }]);
    const unpriced = [section, offer("full-length liner", null, null, 20_000), openCut];
    const second = chooseTreatment(lateral(), verdicts, unpriced, order, "present worth");
    expect(second.treatment).toBe("sectional liner");
    expect(second.reasons).toEqual([{ code: "order decides", because: "not priced" }]);
    expect(second.runnerUp).toEqual({ treatment: "full-length liner", more: null });
  });

  it("counts no failures where they have no cost in this currency, and names no runner-up to one alone", () => {
    const alone = chooseTreatment(
      lateral(),
      [allowed("full-length liner")],
      [offer("full-length liner", 400_000, 410_000, null)],
      order,
      "present worth",
    );
    expect(alone.runnerUp).toBeNull();
    expect(alone.reasons).toEqual([
      { code: "least total worth", worth: 410_000, loss: null, runnerUp: null },
    ]);
  });

  it("is never what only a decision opens", () => {
    const opened = verdicts.map((each) =>
      each.treatment === "full-length liner" ? { ...each, againstRules: true } : each,
    );
    const choice = chooseTreatment(lateral(), opened, offers, order, "present worth");
    expect([choice.treatment, choice.runnerUp?.treatment]).toEqual([
      "sectional liner",
      "open-cut replacement",
    ]);
  });
});

describe("a decision", () => {
  it("stands over the plan's own choice, and says what it costs now and over the horizon", () => {
    const decided = lateral({ decided: decide("open-cut replacement") });
    const choice = chooseTreatment(decided, verdicts, offers, order, "present worth");
    expect([choice.treatment, choice.by, choice.own]).toEqual([
      "open-cut replacement",
      "decision",
      "full-length liner",
    ]);
    // 910,000 over 430,000; 900,000 over 400,000 now.
    expect(choice.decisionCost).toBe(480_000);
    expect(choice.runnerUp).toEqual({ treatment: "sectional liner", more: 20_000 });
    expect(choice.reasons).toEqual([
      { code: "decided", because: "the neighbours dig too" },
      { code: "decided against own choice", own: "full-length liner", cost: 500_000, worth: 480_000 },
    ]);
  });

  it("for the plan's own choice costs nothing and overrules nothing", () => {
    const decided = lateral({ decided: decide("full-length liner") });
    const choice = chooseTreatment(decided, verdicts, offers, order, "present worth");
    expect([choice.by, choice.decisionCost]).toEqual(["decision", 0]);
    expect(choice.reasons).toEqual([{ code: "decided", because: "the neighbours dig too" }]);
  });

  it("against what the rules prefer is followed with their reasons, where nothing else is allowed too", () => {
    const against = allowed("open-cut replacement", {
      againstRules: true,
      reasons: [{ code: "cross-bore found" }],
    });
    const decided = lateral({ decided: decide("open-cut replacement") });
    const choice = chooseTreatment(decided, [against], offers, order, "order");
    expect([choice.treatment, choice.own, choice.runnerUp, choice.decisionCost]).toEqual([
      "open-cut replacement",
      null,
      null,
      null,
    ]);
    expect(choice.reasons.map(({ code }) => code)).toEqual(["decided", "cross-bore found"]);
  });

  it("for what is forbidden is not followed, and that is said", () => {
    const decided = lateral({ decided: decide("pipe bursting") });
    const choice = chooseTreatment(decided, verdicts, offers, order, "order");
    expect([choice.treatment, choice.by]).toEqual(["sectional liner", "plan"]);
    expect(choice.reasons).toEqual([{ code: "decision not allowed", treatment: "pipe bursting" }]);
  });
});

it("a cross-bore that was found is said first, whoever chose", () => {
  for (const decided of [decide("full-length liner"), lateral().decided]) {
    const found = lateral({ crossBore: city("found"), decided });
    const { reasons } = chooseTreatment(found, verdicts, offers, order, "present worth");
    expect(reasons[0]).toEqual({ code: "cross-bore found" });
    expect(reasons.length).toBeGreaterThan(1);
  }
});
