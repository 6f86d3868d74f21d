import { describe, expect, it } from "vitest";
import { judgeAfterWork } from "../../src/plan/after-work.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { lateral, survey, usBasis } from "./examples.ts";

const grade4 = [survey({ structuralGrade: 4, omGrade: 3 })];
const failureUnder = (basis: typeof usBasis) => planLateral(lateral({ inspections: grade4 }), basis).failure;
const failure = failureUnder(usBasis);
const chances = failure.chances;
const present = failure.money!.presentLoss;
const costOf = (mode: "structural" | "blockage" | "infiltration") =>
  failure.money!.parts[mode].reduce((sum, { amount, times }) => sum + amount * times, 0);
const left = (works: Parameters<typeof judgeAfterWork>[0], basis = usBasis) =>
  judgeAfterWork(works, failureUnder(basis), basis);

describe("what remains after the works", () => {
  it("is all of the present loss when nothing is done", () => {
    const { remaining, avoided } = left([]).money!;
    // The same formula by another way through the code; doubles add up in another order.
    expect(remaining.best / present.best).toBeCloseTo(1, 12);
    expect(remaining.least / present.least).toBeCloseTo(1, 12);
    expect(remaining.most / present.most).toBeCloseTo(1, 12);
    expect(avoided.best).toBeCloseTo(0, 6);
  });

  it("counts the same loss avoided and remaining as present where the work lasts the horizon", () => {
    const { remaining, avoided } = left(["full-length liner"]).money!;
    expect((remaining.best + avoided.best) / present.best).toBeCloseTo(1, 12);
  });

  it("is the hand sum of three modes over one year", () => {
    const basis = { ...usBasis, life: { ...usBasis.life, horizonYears: 1, discountRate: 0 } };
    // Shares of the table: 0.03, 0.2; infiltration 1 − 0.71·(1 − 0.3) = 0.503.
    const hand =
      0.03 * chances.structural.value.best * costOf("structural") +
      0.2 * chances.blockage.value.best * costOf("blockage") +
      0.503 * chances.infiltration.value.best * costOf("infiltration");
    expect(left(["full-length liner"], basis).money!.remaining.best).toBeCloseTo(hand, 6);
  });

  it("lets the chances come back when a life ends: cut roots spare blockages for three of five years", () => {
    const basis = { ...usBasis, life: { ...usBasis.life, horizonYears: 5, discountRate: 0 } };
    const yearly = chances.blockage.value.best * costOf("blockage");
    const { remaining, avoided } = left(["clean and cut roots"], basis).money!;
    // Done once: 0.7 of three years' blockages. Kept up: 0.3 of five years' remain.
    expect(avoided.best).toBeCloseTo(0.7 * 3 * yearly, 6);
    const asIs = left([], basis).money!.remaining.best;
    expect(asIs - remaining.best).toBeCloseTo(0.7 * 5 * yearly, 6);
  });

  it("multiplies what two works leave, and drops each when its own life ends", () => {
    const basis = { ...usBasis, life: { ...usBasis.life, horizonYears: 12, discountRate: 0 } };
    const both = left(["clean and cut roots", "joint grouting"], basis);
    expect(both.shares.blockage.best).toBeCloseTo(0.3 * 0.8, 12);
    const yearly = chances.blockage.value.best * costOf("blockage");
    const leak = chances.infiltration.value.best * costOf("infiltration");
    // Three years at 0.24, seven at 0.8, two as they were; ten years of sealed joints: 0.7·0.71·0.7 of the water.
    const blockage = (0.76 * 3 + 0.2 * 7) * yearly;
    expect(both.money!.avoided.best).toBeCloseTo(blockage + 0.7 * 0.71 * 0.7 * 10 * leak, 6);
  });

  it("removes what is reached, sealed, and does not migrate", () => {
    const flow = failure.infiltration!.value.highSeason;
    const removed = left(["sectional liner"]).infiltrationRemoved!;
    expect(removed.best).toBeCloseTo(flow * 0.5 * 0.71 * 0.7, 12);
    expect(removed.least).toBeCloseTo(flow * 0.2 * 0.67 * 0.4, 12);
    expect(removed.most).toBeCloseTo(flow * 0.7 * 0.75 * 1, 12);
  });

  it("never reaches more than all the infiltration there is", () => {
    expect(left(["full-length liner", "connection liner"]).infiltrationRemoved).toEqual(
      left(["full-length liner"]).infiltrationRemoved,
    );
  });

  it("knows no money in a currency without failure costs", () => {
    const { failure } = planLateral(lateral({ inspections: grade4 }), { ...usBasis, failureCosts: null });
    expect(judgeAfterWork(["full-length liner"], failure, usBasis).money).toBeNull();
  });
});
