import { describe, expect, it } from "vitest";
import { soilCompactions, soilModuli } from "../../src/reference/soil-moduli.ts";

describe("the table of soil moduli", () => {
  it("keeps psi and MPa of one value together", () => {
    // 1 psi = 0.45359237 kg × 9.80665 m/s² / (0.0254 m)² = 6894.757 Pa.
    for (const { psi, megapascals } of Object.values(soilModuli.classes)) {
      if (psi === null || megapascals === null) {
        expect([psi, megapascals]).toEqual([null, null]);
        continue;
      }
      for (const compaction of soilCompactions)
        expect(megapascals[compaction]).toBeCloseTo(psi[compaction] * 0.006894757293168361, 9);
    }
  });

  it("says that it is from memory, and has nothing for plastic clay", () => {
    expect(soilModuli.source.document).toBe("Assumption");
    expect(soilModuli.source.note).toContain("From memory");
    expect(soilModuli.classes["plastic clay"].megapascals).toBeNull();
  });

  it("never falls with compaction", () => {
    for (const { psi } of Object.values(soilModuli.classes)) {
      if (psi === null) continue;
      const rising = soilCompactions.map((compaction) => psi[compaction]);
      expect(rising).toEqual([...rising].sort((a, b) => a - b));
    }
  });
});
