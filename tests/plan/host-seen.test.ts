import { describe, expect, it } from "vitest";
import { nothingSeen, readHostSeen } from "../../src/plan/host-seen.ts";
import { millimetres as mm } from "../../src/quantity/si.ts";
import { observation, survey } from "./examples.ts";

const bend = (turn: number | null) => observation({ kind: "bend", mode: "inventory", grade: null, turn });
const change = (sizeAfter: number | null) =>
  observation({
    kind: "size change",
    mode: "inventory",
    grade: null,
    sizeAfter: sizeAfter === null ? null : mm(sizeAfter),
  });

describe("what a camera saw of the host", () => {
  it("counts the bends of the latest complete survey and takes the sharpest", () => {
    const older = survey({ observations: [bend(90)] });
    const seen = readHostSeen([older, survey({ observations: [bend(22.5), bend(45)] })], mm(150));
    expect(seen.bends?.value).toBe(2);
    expect(seen.sharpestBend).toMatchObject({ value: 45, origin: "measured" });
  });

  it("does not name a sharpest bend while one of them has no turn", () => {
    expect(readHostSeen([survey({ observations: [bend(22.5), bend(null)] })], mm(150))).toMatchObject({
      bends: { value: 2 },
      sharpestBend: null,
    });
  });

  it("makes no straight pipe of a survey that records no bend", () => {
    expect(readHostSeen([survey({ observations: [observation()] })], mm(150))).toEqual(nothingSeen);
  });

  it("reads nothing from a survey that stopped short, which may have missed some", () => {
    expect(readHostSeen([survey({ complete: false, observations: [bend(45)] })], mm(150))).toEqual(
      nothingSeen,
    );
  });

  it("works out the change of size from the host and what lies beyond", () => {
    // 150 mm to 100 mm: (150 − 100) ÷ 100 = 0.5.
    expect(readHostSeen([survey({ observations: [change(100)] })], mm(150)).sizeChange?.value).toBe(0.5);
    expect(readHostSeen([survey({ observations: [change(null)] })], mm(150)).sizeChange).toBeNull();
    expect(readHostSeen([survey({ observations: [change(100)] })], null).sizeChange).toBeNull();
  });
});
