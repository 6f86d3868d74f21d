import { describe, expect, it } from "vitest";
import { bookedSelection } from "../../src/commands/booked-selection.ts";
import { loadProgram } from "../../src/commands/load-program.ts";
import { bookContents } from "../../src/commands/write-workbook.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import { savedRun, worstWorked } from "../season/saved-selection.ts";

const loaded = await loadProgram(new URL("../../sample-programs/quennock-falls", import.meta.url).pathname);
if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
const { program, settings } = loaded;

/** The first ten laterals by rank that the plan works on and that may be scheduled, and one nobody knows. */
const chosen = worstWorked(program).slice(0, 10);
const run = savedRun(settings.season, [
  ...chosen,
  { lateral: "no such", treatment: "full-length liner", cost: 1 },
]);

describe("the season in the planning book", () => {
  const selected = bookedSelection(program, settings, "spring", run);
  const contents = { ...bookContents(program), selected };
  const sheets = buildPlanningBook(contents).sheets;
  const season = sheets.find(({ name }) => name === "Season")!;
  const districts = sheets.find(({ name }) => name === "Season districts")!;

  it("lists who is in beside the ranked cut, and says who could not be found", () => {
    const ours = [...season.rows].filter((row) => row[3] !== null);
    expect(ours.map((row) => [row[0], row[3], row[4]])).toEqual(
      chosen.map(({ lateral, treatment, cost }) => [lateral, treatment, cost / 100]),
    );
    expect(season.notes).toContain(
      "1 lateral(s) of the season are not here: not in the program, not offered any more, or held back.",
    );
    expect([...season.rows].some((row) => row[3] === null && row[5] !== null)).toBe(true);
  });

  it("names where a cross-bore was found beside every list of visits, and has none there", () => {
    for (const wanted of ["Season", "Calendar", "Notices"])
      expect(sheets.find(({ name }) => name === wanted)!.notes.join(" "), wanted).toContain(
        "HELD BACK: 1 lateral(s) with a cross-bore that was found and is not recorded as made safe: 00291.",
      );
    const bored = { lateral: "00291", treatment: "inspect first", cost: 35_000 };
    const before = bookedSelection(
      program,
      settings,
      "before",
      savedRun(settings.season, [bored, ...chosen]),
    )!;
    expect(before.laterals.map(({ lateral }) => lateral)).not.toContain("00291");
    expect(before.said.join(" ")).toContain("1 lateral(s) of the season are not here");
  });

  it("says how much of it costs more than the loss it avoids", () => {
    expect(season.notes.join(" ")).toMatch(
      /cost more than the loss they avoid \(present worth\): none of 10\./,
    );
  });

  it("has a district table that adds up to the program, to the cent", () => {
    const total = districts.foot![0]!;
    for (let column = 1; column < total.length; column++) {
      const sum = [...districts.rows].reduce((all, row) => all + Math.round(Number(row[column]) * 100), 0);
      // Flows are shown in another unit than they are added in.
      if (!districts.columns[column]!.heading.startsWith("Infiltration"))
        expect(sum).toBe(Math.round(Number(total[column]) * 100));
    }
    const works = chosen.reduce((all, { cost }) => all + cost, 0);
    expect(total[3]).toBe(works / 100);
    expect(season.foot![0]![4]).toBe(works / 100);
  });

  it("is in no bid book", () => {
    const book = buildBidBook(readBidView(contents));
    expect(book.sheets.map(({ name }) => name).filter((name) => name.startsWith("Season"))).toEqual([]);
  });
});
