import { describe, expect, it } from "vitest";
import { convert } from "../../src/quantity/units.ts";
import { effluentTableSchema, houseEffluents } from "../../src/reference/effluents.ts";
import { resins } from "../../src/reference/resins.ts";

describe("the table of effluents", () => {
  it("judges every resin for every effluent, and names one to choose", () => {
    for (const { resins: verdicts } of houseEffluents.effluents) {
      expect(Object.keys(verdicts).sort()).toEqual(resins.map(({ key }) => key).sort());
      expect(Object.values(verdicts).some(({ verdict }) => verdict === "chosen")).toBe(true);
    }
  });

  it("says that it is from memory, and where the discharge limit comes from", () => {
    expect(houseEffluents.source.document).toBe("Assumption");
    // 40 CFR 403.5(b)(5): 40 °C, which it writes as 104 °F.
    expect(houseEffluents.dischargeLimit.celsius).toBe(40);
    expect(convert(40, "degC", "degF")).toBeCloseTo(104, 9);
    expect(houseEffluents.dischargeLimit.source.document).toBe("40 CFR 403.5(b)(5)");
  });

  it("is refused when an effluent is left out", () => {
    const { effluents } = houseEffluents;
    expect(effluentTableSchema.safeParse({ ...houseEffluents, effluents: effluents.slice(1) }).success).toBe(
      false,
    );
  });
});
