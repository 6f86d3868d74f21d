import { evaluate } from "mathjs";
import { describe, expect, it } from "vitest";
import type { SizeOptions } from "../../src/commands/size-options.ts";
import { loadShareByQuadrature } from "../oracle/boussinesq-quadrature.ts";
import { at, numberAt, runSize, sizeJson, whole } from "./size-run.ts";

describe("equations with their numbers put in", () => {
  /** A printed substitution in mathjs's own signs; I is Boussinesq's stress added up over a corner of the rectangle. */
  const workOut = (text: string): number =>
    evaluate(
      text
        .replaceAll(/(?<=\d),(?=\d{3}(?!\d))/g, "")
        .replaceAll("×", "*")
        .replaceAll("−", "-")
        .replaceAll("√(", "sqrt(")
        .replaceAll("π", "pi"),
      { I: (m: number, n: number) => loadShareByQuadrature(2 * m, 2 * n, 1) / 4 },
    );
  const printed = (text: string) => Number(text.replaceAll(",", "").replace("−", "-"));
  const cases: readonly (readonly [string, SizeOptions])[] = [
    ["US", whole],
    ["SI", { ...whole, units: "si" }],
    ["spread", { ...whole, liveLoadMethod: "spread", cover: "4 ft" }],
    ["spread, SI", { ...whole, liveLoadMethod: "spread", cover: "4 ft", units: "si" }],
    ["partially, older edition", { ...whole, edition: "before 2007b", strengthBasis: "short term" }],
    ["partially", { ...whole, deterioration: "partially", deteriorationBy: "R. Ames, engineer" }],
    ["glass", { ...whole, system: "glass, epoxy", modulusRetention: "50 %", strengthRetention: "50 %" }],
    [
      "glass, SI",
      { ...whole, system: "glass, epoxy", modulusRetention: "50 %", strengthRetention: "50 %", units: "si" },
    ],
    ["shop chart", { ...whole, resinPerLength: "0.8 lb/ft" }],
    ["connection", { ...whole, use: "connection", main: "8 in", placing: "launched from the main" }],
    [
      "one-piece",
      {
        ...whole,
        use: "one-piece",
        main: "8 in",
        system: "one-piece, felt, polyester",
        placing: "launched from the main",
      },
    ],
  ];

  it.each(cases)("give what is printed behind them when worked out again: %s", (_, options) => {
    const { out } = runSize(options);
    const [body = ""] = out.split("\nCautions\n");
    // A value printed over several lines is one; the last two terms of an equation are its numbers and its result.
    const lines = body.replaceAll(/\n {24}/g, " ").split("\n");
    let checked = 0;
    for (const line of lines) {
      for (const part of line.split("; ")) {
        const terms = part.replace(/\[\d+\].*|◀.*/, "").split(" = ");
        const result = /^([−\d.,]+)( (psi|in|gal|ft|N\/m|kPa|mm|L|lbf))?$/.exec(terms.at(-1)?.trim() ?? "");
        const numbers = (terms.at(-2) ?? "").replace(/^ {2}.{21} /, "");
        if (
          result === null ||
          terms.length < 2 ||
          !/[×/^+]/.test(numbers) ||
          /[a-df-zA-HJ-Z]_|·/.test(numbers)
        )
          continue;
        const value = printed(result[1]!);
        checked++;
        // Numbers are put in with five digits and the result has four.
        expect(Math.abs(workOut(numbers) - value), line).toBeLessThanOrEqual(1e-3 * Math.abs(value));
      }
    }
    expect(checked).toBeGreaterThanOrEqual(options.deterioration === "partially" ? 12 : 17);
  });

  it("are those of the JSON, whose results are unrounded", () => {
    const json = sizeJson(whole);
    const worked = at(json, "rings", 0, "worked") as {
      symbol: string;
      substitution: string;
      result: string;
      check?: string;
    }[];
    const psi = (key: string) => numberAt(json, "rings", 0, "loads", key) / 6.894757293168361;
    const find = (symbol: string) => printed(worked.find((found) => found.symbol === symbol)?.result ?? "");
    expect(find("q_t") / psi("total_kPa")).toBeCloseTo(1, 3);
    expect(find("W_s") / psi("live_kPa")).toBeCloseTo(1, 3);
    const governing = worked.find(({ check }) => check === "soil-buckling");
    expect(printed(governing?.result ?? "") * 25.4).toBeCloseTo(
      numberAt(json, "rings", 0, "wall", "calculated_mm"),
      2,
    );
  });
});

describe("checks along a sloping pipe", () => {
  // Shallow at the house, where a wheel weighs most; under water at the main only.
  const sloping = { host: "6 in", coverHouse: "2 ft", coverMain: "10 ft", water: "2 ft" };

  it("are each shown under the cover where they ask for most, with that cover, and X1.1 once", () => {
    const text = runSize(sloping).out.replaceAll(/\s+/g, " ");
    // By hand: P = 62.4/144 × 8.5 = 3.6833 psi at the main; (2·7·125,000·0.83575/(3.6833·2·0.91))^(1/3) = 60.20, 6/61.20 = 0.09804 in.
    expect(text).toMatch(/X1\.1 buckling .* = 0\.09804 in; under 10 ft of cover X1\.2/);
    expect(text).toMatch(/X1\.3 soil and traffic .* in; under 2 ft of cover ◀ governs/);
    // The second opinion divides by the same wall.
    expect(text).toMatch(/t_Glock\/t_X1\.1 = [\d.]+\/0\.098038 = /);
    expect(runSize({ ...sloping, coverMain: "2 ft" }).out).not.toContain("under 2 ft of cover ◀");
  });

  it("are in the JSON under the worst cover, with those that water asks for at the deepest end beside them", () => {
    const json = sizeJson(sloping);
    const ring = (...path: readonly string[]) => numberAt(json, "rings", 0, ...path);
    expect(ring("worst_cover_m")).toBeCloseTo(2 * 0.3048, 9);
    expect(ring("deepest", "cover_m")).toBeCloseTo(3.048, 9);
    expect(ring("deepest", "buckling_X1_1_mm") / 25.4).toBeCloseTo(0.09804, 5);
    expect(ring("checks_mm", "buckling_X1_1")).toBeLessThan(ring("deepest", "buckling_X1_1_mm"));
  });
});
