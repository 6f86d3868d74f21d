import { describe, expect, it } from "vitest";
import { explainLateral } from "../../src/plan/explain.ts";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { wetOutLiner } from "../../src/plan/wet-out.ts";
import { metres, millimetres } from "../../src/quantity/si.ts";
import type { Basis } from "../../src/reference/basis.ts";
import { chosenLiner, lateral, survey, usBasis } from "./examples.ts";

/** 4 in host, 3 mm wall, 42 ft cut: the worked batch of the facts. */
const liner = {
  kind: "full length" as const,
  nominalDiameter: millimetres(100),
  wall: millimetres(3),
  installedLength: metres(38 * 0.3048),
  cutLength: metres(42 * 0.3048),
  endSeals: 2,
};
const host = millimetres(101.6);
const epoxy = chosenLiner("felt, epoxy", "inverted");
const wet = (chosen = epoxy, changes: Partial<Basis> = {}) =>
  wetOutLiner(liner, host, chosen, { ...usBasis, ...changes });
const KG_PER_LB = 0.45359237;

describe("resin for one liner", () => {
  it("of the worked batch is 28.27 lb mixed, weighed as 10.26 kg of base and 2.57 kg of hardener", () => {
    // 4 in × 3 mm, 38 ft + 2 ft each end, felt void 0.87, excess 10 %, 9.4 lb/gal: 42 × 0.673 lb/ft = 28.27 lb.
    const { mixed, components, by } = wet();
    expect(by).toBe("felt voids");
    expect(mixed.mass / KG_PER_LB).toBeCloseTo(28.27, 2);
    if (components.kind !== "two parts") throw new Error("no parts");
    // 100 : 25 by weight: 22.62 + 5.65 lb = 10.2582 + 2.5646 kg, each up to the next 10 g.
    expect(components.batch.base).toBeCloseTo(10.26, 9);
    expect(components.batch.hardener).toBeCloseTo(2.57, 9);
    expect(components.batch.withinTolerance).toBe(true);
  });

  it("says when the scale is too coarse for the ratio", () => {
    const scale = { ...usBasis.wetOut.scale, step: 1 };
    const { components } = wet(epoxy, { wetOut: { ...usBasis.wetOut, scale } });
    // 11 + 3 kg: 3/11 against 1/4 is 9.1 % over.
    expect(components).toMatchObject({
      kind: "two parts",
      batch: { base: 11, hardener: 3, withinTolerance: false },
    });
  });

  it("refuses a ratio without its basis", () => {
    const { mix, ...resin } = epoxy.resin;
    const unlabelled = { ...epoxy, resin: { ...resin, mix: { ...mix!, basis: "" as "by weight" } } };
    expect(() => wet(unlabelled)).toThrow("basis missing");
  });

  it("of a ratio by volume is another mix", () => {
    // 4 : 1 by volume at 1.15 and 1.00 kg/L is 4.6 : 1 by weight: 12.823 × 1/5.6 = 2.2898 kg of hardener.
    const { mix, ...resin } = epoxy.resin;
    const byVolume = { ...resin, mix: { ...mix!, basis: "by volume" as const, base: 4, hardener: 1 } };
    expect(wet({ ...epoxy, resin: byVolume }).components).toMatchObject({ batch: { hardener: 2.29 } });
  });

  it("that heat starts is used as supplied, its pot life by the supplier's table", () => {
    const { components, potLife } = wet(chosenLiner("felt, polyester", "inverted"));
    expect(components).toEqual({ kind: "as supplied" });
    expect(potLife).toEqual({
      kind: "not computed",
      because: "heat- or light-initiated: the supplier's table",
    });
  });

  it("in a glass tube fills what the fibre leaves", () => {
    // Half fibre by mass at 2.54 kg/L, resin 1.126368: v_f = (0.5/2.54)/(0.5/2.54 + 0.5/1.126368) = 0.307230;
    // π·98.6·3 mm² × 12.8016 m = 11.8964 L of wall × 0.692770 × 1.1 = 9.0657 L.
    const { mixed, by, fibre } = wet(chosenLiner("glass, epoxy", "pulled in and inflated"));
    expect(by).toBe("glass fibre");
    expect(mixed.volume).toBeCloseTo(9.0657, 3);
    // The fibre is the other 0.307230 of the wall, at 2.54 kg/L.
    expect(fibre).toBeCloseTo(11.8964 * 0.30723 * 2.54, 2);
  });

  it("by a shop's chart is its mass for the length cut, with nothing added", () => {
    // A trade training page quotes 0.8 lb/ft for 4 in × 3 mm (common practice, no published source): 42 × 0.8 = 33.6 lb.
    const source = { document: "program.json", at: "criteria.shop_chart" };
    const rows = [{ diameter: 100, wall: 3, kilogramsPerMetre: (0.8 * KG_PER_LB) / 0.3048 }];
    const { mixed, by } = wet(epoxy, { shopChart: { rows, source } });
    expect(by).toBe("shop chart");
    expect(mixed.mass / KG_PER_LB).toBeCloseTo(33.6, 9);
    const other = [{ diameter: 100, wall: 4.5, kilogramsPerMetre: 1 }];
    expect(wet(epoxy, { shopChart: { rows: other, source } }).by).toBe("felt voids");
  });

  it("takes more for a calibration tube that stays in the pipe", () => {
    // 1 mm of felt inside the liner: π·(95.6 − 1)·1 mm² × 12.8016 m = 3.80461 L; × 0.87 × 1.1 = 3.64101 L.
    const tube = { thickness: 1, voidRatio: 0.87, source: { document: "the maker" } };
    const with_ = wet({ ...epoxy, system: { ...epoxy.system, calibrationTube: tube } });
    expect(with_.calibrationTube).toBeCloseTo(3.641, 3);
    expect(with_.mixed.volume - wet().mixed.volume).toBeCloseTo(3.641, 3);
  });
});

describe("the time before the resin thickens", () => {
  const at = (celsius: number) => {
    const { forecastTemperature } = usBasis.wetOut;
    return wet(epoxy, {
      wetOut: { ...usBasis.wetOut, forecastTemperature: { ...forecastTemperature, value: celsius } },
    }).potLife;
  };

  it("is 0.7 of 42.4 min at 20 °C, and 25.4 min of work do not fit when 35.4 are asked for", () => {
    // Halving per 10 °C from 30 min at 25 °C (invented): 30 × 2^0.5 = 42.43; × 0.7 = 29.70.
    // Work: 5 + 0.5 × 12.8016 + 10 haul + 12.8016/0.9144 insertion = 35.40 min.
    const check = at(20);
    if (check.kind !== "too long") throw new Error(check.kind);
    expect(check.allowed).toBeCloseTo(29.698, 3);
    expect(check.needed).toBeCloseTo(35.4008, 4);
    // 21·2^(−(T − 25)/10) = 35.4008 → T = 25 + 10·log2(21/35.4008) = 17.466 °C.
    expect(check.hottest).toBeCloseTo(17.466, 3);
  });

  it("is enough on a colder day", () => {
    expect(at(17).kind).toBe("fits");
    expect(at(18).kind).toBe("too long");
  });
});

describe("the explanation of a lined lateral", () => {
  const worn = lateral({ inspections: [survey({ structuralGrade: 4, structuralQuick: "4332" })] });
  const stages = explainLateral(planLateral(worn, usBasis), usBasis);
  const of = (stage: string) =>
    (stages.find((each) => each.stage === stage)?.lines ?? [])
      .map(({ label, value, note }) => `${label}: ${value} ${note ?? ""}`)
      .join("\n");

  it("has its cure, with who governs and what comes before heat", () => {
    expect(of("Cure")).toContain("the resin supplier's schedule");
    expect(of("Cure")).toContain("isolate the building's plumbing");
    expect(of("Cure")).toContain("59 °F to 140 °F");
  });

  it("has its placing forces and both capacity ratios with their equations", () => {
    expect(of("Placing forces")).toContain("nothing is pulled");
    expect(of("Placing forces")).toContain("γ_w");
    expect(of("Flow before and after")).toContain("on equal n: 78.1 %");
    expect(of("Flow before and after")).toContain("110.6 % to 112.8 %");
    expect(of("Flow before and after")).toContain("only the smoother wall keeps the capacity");
  });

  it("has none of them for a lateral without a liner", () => {
    const left = explainLateral(planLateral(lateral(), usBasis), usBasis).map(({ stage }) => stage);
    expect(left).not.toContain("Cure");
    expect(left).not.toContain("Flow before and after");
  });
});
