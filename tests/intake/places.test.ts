import { describe, expect, it } from "vitest";
import { ProblemList } from "../../src/intake/cell-problem.ts";
import { refusePlaces } from "../../src/intake/places.ts";
import type { UnitSystem } from "../../src/quantity/measure.ts";
import { numbersOf } from "../../src/sheet/table.ts";
import { tableOf } from "../season/examples.ts";

/** What is told of laterals in these places, and where they are after it; their rows in the file are 2, 3 and so on. */
function refused(places: readonly (readonly [number, number])[], units: UnitSystem = "si") {
  const column = (key: string) =>
    ({ key, heading: key, measure: "count", stage: "given", help: "" }) as const;
  const table = tableOf(
    ["x", "y", "file_row"].map(column),
    places.map(([x, y], i) => ({ x, y, file_row: i + 2 })),
  );
  const problems = new ProblemList("laterals.csv");
  refusePlaces(table, units, problems);
  const [x, y] = [numbersOf(table, "x"), numbersOf(table, "y")];
  return {
    told: problems.finish().map(({ severity, row, found }) => ({ severity, row, found })),
    missing: places.flatMap((_, i) => (Number.isNaN(x[i]! + y[i]!) ? [i + 2] : [])),
  };
}

/** A city of so many laterals, some 10 units apart. */
const city = (count: number, x: number, y: number, apart = 10) =>
  Array.from({ length: count }, (_, i) => [x + apart * (i % 7), y + apart * (i % 5)] as const);

describe("the coordinates of a lateral", () => {
  it("of 0/0 are taken as missing and told; a 0 alone is a number like others", () => {
    expect(
      refused([
        [0, 0],
        [0, 5],
        [5, 0],
      ]),
    ).toEqual({
      told: [{ severity: "rejected", row: 2, found: "x 0, y 0" }],
      missing: [2],
    });
  });

  it("more than 100 km from all others are taken as missing, 90 km are not", () => {
    const places = [...city(20, 3_457_000, 5_567_000), [3_557_100, 5_567_000] as const];
    expect(refused(places)).toEqual({
      told: [{ severity: "rejected", row: 22, found: "x 3557100, y 5567000" }],
      missing: [22],
    });
    expect(refused([...city(20, 3_457_000, 5_567_000), [3_547_000, 5_567_000]]).missing).toEqual([]);
  });

  it("are in feet where the program is: 200,000 ft are 61 km, 400,000 ft are 122 km", () => {
    expect(refused([...city(20, 2_000_000, 500_000), [2_200_000, 500_000]], "us").missing).toEqual([]);
    expect(refused([...city(20, 2_000_000, 500_000), [2_400_000, 500_000]], "us").missing).toEqual([22]);
  });

  it("are in degrees where they may be: a degree of latitude is 111 km", () => {
    expect(refused([...city(20, 8.6, 50.1, 0.001), [8.6, 51.1]]).missing).toEqual([22]);
    expect(refused([...city(20, 8.6, 50.1, 0.001), [8.6, 50.9]]).missing).toEqual([]);
  });

  it("are kept where the city itself is wide, or has two parts", () => {
    expect(refused([...city(20, 3_400_000, 5_500_000, 20_000), [3_550_000, 5_500_000]]).missing).toEqual([]);
    expect(refused([...city(12, 3_457_000, 5_567_000), ...city(8, 3_757_000, 5_567_000)]).missing).toEqual(
      [],
    );
  });
});
