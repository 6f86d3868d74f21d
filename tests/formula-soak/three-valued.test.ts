import { describe, expect, it } from "vitest";
import { isMet } from "../../src/formula/formula.ts";
import { kleene } from "../oracle/formula-meaning.ts";
import { refusal, resultOf } from "./sheet-vocabulary.ts";

/** Yes, no and unknown as a formula's value. */
const answers = [true, false, null] as const;
const coded = (answer: boolean | null) => (answer === null ? Number.NaN : answer ? 1 : 0);

describe("a missing value", () => {
  it("makes comparisons unknown, and unknown meets no rule", () => {
    for (const sign of ["==", "!=", "<", "<=", ">", ">="]) {
      expect(resultOf(`host_length ${sign} 3 m`)).toBeNaN();
      expect(resultOf(`3 m ${sign} host_length`)).toBeNaN();
    }
    expect(resultOf('surface == "street"')).toBeNaN();
    expect(resultOf('surface != "street"')).toBeNaN();
    expect(isMet(resultOf('cross_bore == "cleared"'))).toBe(false);
    expect(isMet(resultOf('not (cross_bore == "found")'))).toBe(false);
    expect(isMet(resultOf('cross_bore == "cleared"', { cross_bore: "cleared" }))).toBe(true);
  });

  it("goes through arithmetic", () => {
    expect(resultOf("host_length * 0 + 1 m")).toBeNaN();
    expect(resultOf("min(host_length, 1 m)")).toBeNaN();
    expect(resultOf("max(1 m, host_length)")).toBeNaN();
    expect(resultOf("round(risk)")).toBeNaN();
    expect(resultOf("year_of(inspected_on)")).toBeNaN();
    expect(resultOf("cost * 2")).toBeNaN();
    // Any number to the power 0 is 1, so nothing is unknown about this one.
    expect(resultOf("risk ^ 0")).toBe(1);
  });

  it("makes a choice missing when the condition is unknown, even between equal values", () => {
    expect(resultOf("risk > 3 ? 1 : 1")).toBeNaN();
    expect(resultOf("risk > 3 ? 1 : host_length / (1 m)", { risk: 5 })).toBe(1);
  });

  it("is asked for with known and filled with if_missing", () => {
    expect(resultOf("known(host_length)")).toBe(0);
    expect(resultOf("known(host_length)", { host_length: 3 })).toBe(1);
    expect(resultOf("known(surface)")).toBe(0);
    expect(resultOf("known(surface)", { surface: "yard" })).toBe(1);
    expect(resultOf("known(risk > 3)")).toBe(0);
    expect(resultOf("if_missing(host_length, 30 ft)")).toBeCloseTo(9.144, 12);
    expect(resultOf("if_missing(host_length, 30 ft)", { host_length: 3 })).toBe(3);
    expect(resultOf('if_missing(surface == "street", false)')).toBe(0);
    expect(refusal("if_missing(surface, district)")).toContain("Text is only compared");
  });
});

describe("and, or, not", () => {
  it.each(answers.flatMap((a) => answers.map((b) => [a, b] as const)))(
    "follow Kleene's tables for %s and %s",
    (a, b) => {
      const values = { cleanout: coded(a), reinspect: coded(b) };
      expect(resultOf("cleanout and reinspect", values)).toBe(coded(kleene.and(a, b)));
      expect(resultOf("cleanout or reinspect", values)).toBe(coded(kleene.or(a, b)));
      expect(resultOf("not cleanout", values)).toBe(coded(kleene.not(a)));
    },
  );
});
