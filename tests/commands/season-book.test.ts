import { rmSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookedSelection } from "../../src/commands/booked-selection.ts";
import type { CommandIo } from "../../src/commands/command-io.ts";
import { withCurrentSeason } from "../../src/commands/current-season.ts";
import { decideValue } from "../../src/commands/decide.ts";
import { loadSeasonOrSay } from "../../src/commands/load-season.ts";
import { seasonOfFolder } from "../../src/commands/season.ts";
import { tableOf } from "../../src/commands/table.ts";
import { uncertaintyOf } from "../../src/commands/uncertainty.ts";
import { workbookOf } from "../../src/commands/workbook.ts";
import { bookContents } from "../../src/commands/write-workbook.ts";
import { buildPlanningBook } from "../../src/workbook/planning-book.ts";
import type { Row, SheetModel } from "../../src/workbook/sheet-model.ts";
import { recorded, sampleCopy, unread } from "./sample-copy.ts";

let folder: string;
beforeAll(async () => {
  folder = sampleCopy("kaltwendel");
  await seasonOfFolder(folder, { save: "spring" }, recorded().io);
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The planning book of the season, as `workbook --season spring` makes it. */
async function book() {
  const { io } = recorded();
  const loaded = await loadSeasonOrSay(folder, "spring", io, (program, settings, named) =>
    withCurrentSeason(folder, { program, settings }, null, named),
  );
  if (loaded?.season == null) throw new Error("the season does not load");
  const { name, run } = loaded.season;
  const selected = bookedSelection(loaded.whole, loaded.settings, name, run)!;
  const sheets = [...buildPlanningBook({ ...bookContents(loaded.program), selected }).sheets];
  return { loaded, selected, sheet: (of: string) => sheets.find((each) => each.name === of)! };
}

/** Cells of a column by those of the column "Lateral". */
function byLateral({ columns, rows }: SheetModel, heading: string): ReadonlyMap<unknown, unknown> {
  const at = (name: string) => columns.findIndex((column) => column.heading === name);
  return new Map([...rows].map((row: Row) => [row[at("Lateral")], row[at(heading)]]));
}

describe("the planning book of a season", () => {
  it("gives a lateral one rank on all its sheets, that of the whole plan", async () => {
    const { sheet, loaded } = await book();
    const ranks = byLateral(sheet("Season"), "Rank");
    const size = loaded.program.laterals.rows;
    expect(Math.max(...[...byLateral(sheet("Reasons"), "Rank").values()].map(Number))).toBeGreaterThan(size);
    for (const name of ["Reasons", "Eligible treatments"])
      for (const [lateral, rank] of byLateral(sheet(name), "Rank"))
        expect(rank, `${name}, ${lateral}`).toBe(ranks.get(lateral));
  });

  it("says that the season selected a treatment, and no person where none did", async () => {
    const { sheet } = await book();
    const why = [...byLateral(sheet("Reasons"), "Why").values()].join("\n");
    expect(why).toContain("selected for season spring");
    expect(why).not.toContain("decided by a person");
    expect([...byLateral(sheet("Reasons"), "Assumed or decided").values()].join("\n")).not.toContain(
      "decided:",
    );
  });

  it("is what table gives of a sheet with --season, and uncertainty of its cost", async () => {
    const { loaded } = await book();
    const planned = loaded.program.totals.program.cost;
    expect(planned).toBeLessThan(loaded.whole.totals.program.cost);
    const said = async (command: (io: CommandIo) => Promise<number>) => {
      const { io, said: told } = recorded();
      await command(io);
      return told.out;
    };
    const cells = (csv: string) => csv.trimEnd().split("\n").at(-1)!.split(",");
    const costIn = async (options: object) =>
      Number(
        cells((await said((io) => tableOf(folder, "Uncertainty", options, io))).replace(/"[^"]*"/g, ""))[1],
      );
    expect(await costIn({ season: "spring" })).toBe(planned / 100);
    expect(await costIn({})).toBe(loaded.whole.totals.program.cost / 100);
    const json = await said((io) =>
      uncertaintyOf(folder, { season: "spring", draws: "100", json: true }, io),
    );
    expect(JSON.parse(json).program.cost_cents.planned).toBe(planned);
  }, 60_000);

  it("says on both sheets, and on the terminal, that the season was selected from another plan, and at what cost", async () => {
    const fresh = await book();
    expect(fresh.selected.said.join("\n")).not.toContain("ANOTHER PLAN");
    const { run } = fresh.loaded.season!;
    const [first] = run.chosen;
    await decideValue(
      { folder, lateral: first!.lateral, column: "host_length", value: "3 m", reason: "measured" },
      recorded().io,
      unread,
    );
    const stale = await book();
    const said = stale.selected.said.join("\n");
    const shown = (cents: number) => (cents / 100).toLocaleString("en-US", { minimumFractionDigits: 2 });
    expect(said).toContain("SELECTED FROM ANOTHER PLAN than this one");
    expect(said).toContain(`saved at works EUR ${shown(run.works)}`);
    expect(stale.sheet("Season").notes).toEqual(expect.arrayContaining([...stale.selected.said]));
    expect(stale.sheet("Ranking").notes.join("\n")).toContain(
      "on the sheet Season, at the costs of this plan",
    );
    const { io, said: told } = recorded();
    await workbookOf(folder, {}, io);
    expect(told.err.replaceAll(/\s+/g, " ")).toContain("was selected from another plan");
  }, 60_000);
});
