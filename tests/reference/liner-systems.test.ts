import { describe, expect, it } from "vitest";
import { houseEffluents } from "../../src/reference/effluents.ts";
import { linerSystemSchema, linerSystems, usualUses } from "../../src/reference/liner-systems.ts";
import { resins } from "../../src/reference/resins.ts";

const system = (key: string) => linerSystems.find((candidate) => candidate.key === key)!;

describe("the liner systems", () => {
  it("are those a crew may bring: felt with three resins, glass, one-piece, and connection liners", () => {
    expect(linerSystems.map(({ key }) => key)).toEqual([
      "felt, polyester",
      "felt, vinyl ester",
      "felt, epoxy",
      "glass, epoxy",
      "glass, light cure",
      "one-piece, felt, polyester",
      "connection, full circle",
      "connection, brim",
    ]);
    expect(system("glass, light cure").cures).toEqual(["light"]);
    expect(system("connection, brim").main?.parts).toEqual(["brim"]);
  });

  it("offer at least two systems for each use that a program must have, each with a resin of the table", () => {
    for (const use of usualUses)
      expect(linerSystems.filter(({ uses }) => uses.includes(use)).length).toBeGreaterThan(1);
    // A program may have no one-piece liner at all: one system of it is a choice.
    expect(linerSystems.filter(({ uses }) => uses.includes("one-piece"))).toHaveLength(1);
    for (const { resin } of linerSystems) expect(resins.map(({ key }) => key)).toContain(resin);
  });

  it("give glass no long-term value, because none could be read", () => {
    for (const { tube, modulusRetention, strengthRetention, propertySource } of linerSystems) {
      if (tube.kind === "felt") expect(modulusRetention).toBeGreaterThan(0);
      else {
        expect([modulusRetention, strengthRetention]).toEqual([null, null]);
        expect(propertySource.document).toBe("Assumption");
        expect(propertySource.note).toContain("DOUBTFUL");
      }
    }
  });

  it("hold the low end of the handbook's felt values", () => {
    // Trenchless Technology Piping, 2010, table 2.8: vinyl ester 250,000 psi short term, 125,000 psi long term; epoxy 300,000 and 75,000.
    const longTerm = (key: string) => {
      const { shortTermModulus, modulusRetention } = system(key);
      return (shortTermModulus * modulusRetention!) / 0.006894757293168361;
    };
    expect(longTerm("felt, vinyl ester")).toBeCloseTo(125_000, -2);
    expect(longTerm("felt, epoxy")).toBeCloseTo(75_000, -2);
  });

  it("have no hot design data, whatever their resin is rated for", () => {
    for (const { longTermModulusAt, temperatureRating, propertiesUpTo } of linerSystems) {
      expect(longTermModulusAt).toEqual([]);
      expect(temperatureRating).toBeGreaterThan(propertiesUpTo);
    }
  });

  it("state run-in and run-out in the unit they are kept in, so that a length cut follows from what is said", () => {
    const stated = linerSystems.flatMap(({ runIn, runOut, stockSource }) => {
      const metres = /Run-in and run-out ([\d.]+) m \(/.exec(stockSource.note ?? "")?.[1];
      return metres === undefined ? [] : [[Number(metres), runIn, runOut]];
    });
    expect(stated).toHaveLength(linerSystems.length);
    for (const [said, runIn, runOut] of stated) expect([runIn, runOut]).toEqual([said, said]);
  });

  it("resist no effluent that their own resin does not", () => {
    for (const { resists, resin } of linerSystems)
      for (const kind of resists)
        expect(houseEffluents.effluents.find(({ key }) => key === kind)?.resins[resin]?.verdict).not.toBe(
          "refused",
        );
  });

  it("are refused without a source, with falling temperatures, or with a part in the main that no use has", () => {
    const good = system("felt, polyester");
    const { propertySource, ...sourceless } = good;
    expect(propertySource.document).toContain("Trenchless Technology Piping");
    expect(linerSystemSchema.safeParse(sourceless).success).toBe(false);
    const row = (temperature: number) => ({ temperature, modulus: 500, strength: 10 });
    expect(linerSystemSchema.safeParse({ ...good, longTermModulusAt: [row(60), row(50)] }).success).toBe(
      false,
    );
    expect(linerSystemSchema.safeParse({ ...good, main: null }).success).toBe(false);
    expect(linerSystemSchema.safeParse(good).success).toBe(true);
  });
});
