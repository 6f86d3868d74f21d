import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { specifyWall, steppedThicknesses } from "../../src/engineering/specified-wall.ts";
import { millimetres } from "../../src/quantity/si.ts";

const mm = (values: readonly number[]) => values.map(millimetres);
const stock = mm([3, 4.5, 6, 7.5, 9]);

describe("specified wall", () => {
  it("is the minimum when that is thicker than the calculation", () => {
    expect(specifyWall(millimetres(2.34), millimetres(3), stock)).toEqual({
      kind: "specified",
      calculated: 2.34,
      specifiedMinimum: 3,
      stocked: 3,
      governedBy: "specified-minimum",
    });
  });

  it("is the next stocked thickness over the calculation when that is thicker", () => {
    const result = specifyWall(millimetres(4.69), millimetres(3), stock);
    expect(result).toMatchObject({ stocked: 6, governedBy: "calculation" });
  });

  it("is the minimum's where the calculation asks for no more", () => {
    expect(specifyWall(millimetres(4.5), millimetres(4.5), stock)).toMatchObject({
      stocked: 4.5,
      governedBy: "specified-minimum",
    });
  });

  it("takes a stocked thickness that is just met, whatever the last bit", () => {
    const justOver = 3 * 1.5 * (1 + Number.EPSILON);
    expect(justOver).toBeGreaterThan(4.5);
    expect(specifyWall(millimetres(justOver), millimetres(3), stock)).toMatchObject({ stocked: 4.5 });
    expect(specifyWall(millimetres(4.5001), millimetres(3), stock)).toMatchObject({ stocked: 6 });
  });

  it("is refused when nothing stocked is thick enough, with what is needed and the thickest there is", () => {
    const refused = { kind: "refused", because: "no-stocked-thickness", needed: 9.2 };
    expect(specifyWall(millimetres(9.2), millimetres(3), stock)).toEqual({ ...refused, largestStocked: 9 });
    expect(specifyWall(millimetres(9.2), millimetres(3), [])).toEqual({ ...refused, largestStocked: null });
  });

  it("is the least stocked thickness that satisfies both, in any order of the stock", () => {
    const thickness = fc.integer({ min: 10, max: 150 }).map((tenths) => tenths / 10);
    fc.assert(
      fc.property(
        thickness,
        thickness,
        fc.array(thickness, { minLength: 1 }),
        (calculated, minimum, list) => {
          const result = specifyWall(millimetres(calculated), millimetres(minimum), mm(list));
          const enough = list.filter((t) => t >= Math.max(calculated, minimum)).sort((a, b) => a - b);
          if (result.kind === "refused") expect(enough).toEqual([]);
          else expect(result.stocked).toBe(enough[0]);
        },
      ),
    );
  });
});

describe("stepped thicknesses", () => {
  it("go from 3.5 mm in steps of 0.7 mm (Nashua NH, 2019)", () => {
    const made = steppedThicknesses(millimetres(3.5), millimetres(0.7), millimetres(7));
    expect(made).toHaveLength(6);
    [3.5, 4.2, 4.9, 5.6, 6.3, 7].forEach((t, i) => {
      expect(made[i]).toBeCloseTo(t, 12);
    });
  });

  it("are none when the least is already too thick", () => {
    expect(steppedThicknesses(millimetres(5), millimetres(1), millimetres(4))).toEqual([]);
  });

  it("throws on a step of nothing", () => {
    expect(() => steppedThicknesses(millimetres(3), millimetres(0), millimetres(9))).toThrow(/got 3, 0, 9/);
  });
});
