import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Owner } from "../../src/columns/lateral-columns.ts";
import { treatmentKinds } from "../../src/columns/plan-columns.ts";
import { priceLines } from "../../src/plan/cost.ts";
import { type CostSplit, splitCost } from "../../src/plan/cost-split.ts";
import { describePermission } from "../../src/plan/explain-ownership.ts";
import { judgePermission, mayBeScheduled } from "../../src/plan/permission.ts";
import { stated } from "../../src/plan/stated.ts";
import { cents, fraction, metres } from "../../src/quantity/si.ts";
import type { BidItemKey } from "../../src/reference/bid-items.ts";
import { on } from "./examples.ts";

const city = <T>(value: T) => stated(value, "city");
const owned = (lower: Owner, upper: Owner, share: number | null, lengths: [number, number] = [8, 12]) => ({
  lowerOwner: city(lower),
  upperOwner: city(upper),
  cityShare: share === null ? null : city(fraction(share)),
  lowerLength: city(metres(lengths[0])),
  upperLength: city(metres(lengths[1])),
});
const cost = (lines: readonly (readonly [BidItemKey, number, number])[]) =>
  priceLines(
    lines.map(([item, hundredths]) => ({ item, variant: "", hundredths })),
    Object.fromEntries(lines.map(([item, , price]) => [item, cents(price)])),
  );
const ofCity = (split: CostSplit) => (split.kind === "split" ? [split.city, split.owner] : split.what);

describe("cost between city and owner", () => {
  it("a liner of 8 m in the street and 12 m on the property, half of it paid: 8/20 + 12/20 · 50 % = 70 %", () => {
    // 4200.00 · 0.7 = 2940.00
    expect(
      ofCity(splitCost(cost([["full-length liner", 100, 420_000]]), owned("city", "private", 0.5))),
    ).toEqual([294_000, 126_000]);
  });

  it("a connection liner is on the lower part only, a new cleanout on the upper", () => {
    const lines = cost([
      ["connection liner", 100, 310_000],
      ["new cleanout", 100, 145_000],
    ]);
    expect(ofCity(splitCost(lines, owned("city", "private", 0)))).toEqual([310_000, 145_000]);
  });

  it("half a cent goes to the city: 1.01 by halves is 0.51 and 0.50", () => {
    expect(
      ofCity(splitCost(cost([["root cutting", 100, 101]]), owned("city", "private", 0, [5, 5]))),
    ).toEqual([51, 50]);
  });

  it("half a cent is half a cent of lengths in feet and of any share too", () => {
    // 106.6 ft at 5.50 are 586.30; the city's 48.5 ft and half of 58.1 ft are 77.55 ft, at 5.50 426.525: up to 426.53.
    // The owner's 29.05 ft come to 159.775; as the rest 159.77.
    const feet = (length: number) => length * 0.3048;
    const split = splitCost(
      cost([["root cutting", 10_660, 550]]),
      owned("city", "private", 0.5, [feet(48.5), feet(58.1)]),
    );
    expect(ofCity(split)).toEqual([42_653, 15_977]);
    expect(split.kind === "split" && split.lines[0]).toMatchObject({
      cityHundredths: 7755,
      ownerHundredths: 2905,
      cityCents: 42_653,
    });
    // 35.0 % of 2.90 are 1.015, and 57.5 % of 2.00 are 1.15: 1.02 and 1.15 to the city.
    expect(ofCity(splitCost(cost([["root cutting", 100, 290]]), owned("private", "private", 0.35)))).toEqual([
      102, 188,
    ]);
    expect(ofCity(splitCost(cost([["root cutting", 100, 200]]), owned("private", "private", 0.575)))).toEqual(
      [115, 85],
    );
  });

  it("says what is not stated, and needs lengths only where the parts are paid differently", () => {
    const lines = cost([["root cutting", 100, 101]]);
    const unknown = { lowerLength: null, upperLength: null };
    expect(ofCity(splitCost(lines, { ...owned("city", "private", 0), lowerOwner: null }))).toBe("owner");
    expect(ofCity(splitCost(lines, owned("city", "private", null)))).toBe("city share");
    expect(ofCity(splitCost(lines, { ...owned("city", "private", 0), ...unknown }))).toBe(
      "lengths of the parts",
    );
    expect(ofCity(splitCost(lines, { ...owned("city", "city", null), ...unknown }))).toEqual([101, 0]);
    expect(ofCity(splitCost(lines, { ...owned("private", "private", 0), ...unknown }))).toEqual([0, 101]);
  });

  it("city and owner add up to every line and to the total, in cents and in hundredths", () => {
    const line = fc.tuple(
      fc.constantFrom<BidItemKey>(
        "full-length liner",
        "additional liner length",
        "new cleanout",
        "connection liner",
      ),
      fc.integer({ min: 1, max: 100_000 }),
      fc.integer({ min: 0, max: 999_999 }),
    );
    fc.assert(
      fc.property(
        fc.uniqueArray(line, { minLength: 1, maxLength: 4, selector: ([item]) => item }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        (lines, share, lower, upper) => {
          const whole = cost(lines);
          const split = splitCost(whole, owned("city", "private", share, [lower, upper]));
          if (split.kind !== "split" || split.city === null || split.owner === null)
            throw new Error("not split");
          expect(split.city + split.owner).toBe(whole.total);
          for (const each of split.lines) {
            expect((each.cityCents as number) + (each.ownerCents as number)).toBe(each.line.extension);
            expect(each.cityHundredths + each.ownerHundredths).toBe(each.line.hundredths);
            expect(Math.min(each.cityHundredths, each.ownerHundredths)).toBeGreaterThanOrEqual(0);
          }
        },
      ),
    );
  });
});

describe("permission", () => {
  const asOf = on("2026-03-01");
  const seasonStart = on("2026-04-06");
  const lateral = (signed: string | null, expires: string | null) => ({
    lowerOwner: city<Owner>("city"),
    upperOwner: city<Owner>("private"),
    permissionSigned: signed === null ? null : city(on(signed)),
    permissionExpires: expires === null ? null : city(on(expires)),
  });
  const judge = (signed: string | null, expires: string | null, start: typeof seasonStart | null = null) =>
    judgePermission("full-length liner", lateral(signed, expires), { asOf, seasonStart: start });

  it("must be signed by the as-of date and hold to it, or to the first day of the season where that is later", () => {
    expect(mayBeScheduled(judge("2026-03-01", "2026-03-01"))).toBe(true);
    expect(mayBeScheduled(judge("2025-05-01", null))).toBe(true);
    expect(judge(null, null).kind).toBe("not signed");
    expect(judge("2026-03-02", null).kind).toBe("signed later");
    expect(judge("2025-01-01", "2026-02-28").kind).toBe("expires before");
    expect(mayBeScheduled(judge("2025-01-01", "2026-04-05"))).toBe(true);
    expect(mayBeScheduled(judge("2025-01-01", "2026-04-05", seasonStart))).toBe(false);
    expect(mayBeScheduled(judge("2025-01-01", "2026-04-06", seasonStart))).toBe(true);
    // Planned again within the season, it must hold to that day.
    expect(mayBeScheduled(judge("2025-01-01", "2026-02-28", on("2026-02-01")))).toBe(false);
    expect(mayBeScheduled(judge("2025-01-01", "2026-03-01", on("2026-02-01")))).toBe(true);
    expect(describePermission(judge("2025-01-01", "2026-02-28"))).toBe(
      "permission ends 2026-02-28, before 2026-03-01: renew it",
    );
  });

  it("is asked of every treatment that works on a private part, and of no look from the main", () => {
    const days = { asOf, seasonStart: null };
    const may = treatmentKinds.filter(
      (kind) => mayBeScheduled(judgePermission(kind, lateral(null, null), days)) === true,
    );
    expect(may).toEqual(["inspect first", "leave and re-inspect", "connection liner"]);
  });

  it("an owner nobody states leaves it open: not yes", () => {
    const unknown = { ...lateral("2026-01-01", null), upperOwner: null };
    const found = judgePermission("full-length liner", unknown, { asOf, seasonStart: null });
    expect(found).toEqual({ kind: "owner not stated", part: "upper" });
    expect(mayBeScheduled(found)).toBeNull();
  });
});
