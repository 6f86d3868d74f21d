import { isoDate } from "../quantity/calendar.ts";
import { districtName } from "../quantity/district-name.ts";
import { showCount, showNumber, showQuantity } from "../quantity/show-quantity.ts";
import { cautionNamed } from "../reference/cautions.ts";
import { workToBid } from "../season/bid-work.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { type Takeoff, type TakeoffGroup, takeOffByDistrict } from "../season/takeoff.ts";
import { amountShown, takeoffUnit } from "../workbook/takeoff.ts";
import {
  NO_LUBRICANT_NOTE,
  RESIN_NOTE,
  ROUNDING_NOTE,
  roundings,
  type TakeoffRow,
  takeoffRows,
} from "../workbook/takeoff-rows.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf } from "./load-program.ts";
import { loadSeasonOrSay } from "./load-season.ts";
import { sayNotBid } from "./not-bid.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** `wyeplan takeoff FOLDER [--json] [--season NAME]`: what a contractor must buy for the work that is left, by district and for the program. */
export async function takeoffOf(
  folder: string,
  options: { readonly json?: boolean; readonly season?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadSeasonOrSay(folder, options.season, io);
  if (loaded === null) return EXIT.notDone;
  sayNotBid(loaded.program, io, "the takeoff");
  const program = workToBid(loaded.program);
  const takeoff = takeOffByDistrict(program, program.basis);
  io.out(
    options.json === true
      ? `${JSON.stringify(takeoffAsJson(takeoff, program), null, 2)}\n`
      : `${takeoffText(takeoff, program, io.columns ?? 100)}\n`,
  );
  return exitCodeOf(program);
}

export function takeoffText(takeoff: Takeoff, program: PlannedProgram, width: number): string {
  const { name, asOf } = program.basis.program;
  const { districts, program: all } = takeoff;
  const notes = [cautionNamed("field measure").text, ROUNDING_NOTE, RESIN_NOTE, NO_LUBRICANT_NOTE];
  return [
    `${name}, as of ${isoDate(asOf)}: material takeoff, apart from bid quantities`,
    ...districts.map((of) => groupText(districtName(of.district), of, program, width)),
    groupText("Program, bought at once", all, program, width),
    restsText(takeoff, program, width),
    differencesText(takeoff, width),
    notes.map((text) => wrapped(text, "  ", "    ", width)).join("\n"),
  ].join("\n\n");
}

function groupText(title: string, of: TakeoffGroup, { basis }: PlannedProgram, width: number): string {
  const style = basis.program;
  const amount = (value: number | null, unit: TakeoffRow["unit"]) =>
    value === null
      ? ""
      : unit === "each"
        ? showCount(value)
        : showNumber(amountShown(value, unit, style), "points", style);
  const table = plainTable(
    [
      left("Material"),
      left("Kind"),
      right("Used"),
      left(""),
      left("Bought"),
      right("Fewest"),
      right("Left"),
      right("Scrap"),
    ],
    takeoffRows(of).map((row) => [
      row.material,
      row.variant,
      amount(row.use, row.unit),
      takeoffUnit(row.unit, style),
      row.bought === null ? "" : `${showCount(row.bought.count)} ${row.bought.what}`,
      row.fewest === null ? "" : showCount(row.fewest),
      amount(row.left, row.unit),
      amount(row.scrap, row.unit),
    ]),
    width,
  );
  return `${title}\n${table}`;
}

/** Rests of the program's rolls that are long enough to keep, and pieces no roll holds. */
function restsText(takeoff: Takeoff, { basis }: PlannedProgram, width: number): string {
  const length = (mm: number) => showQuantity(mm / 1000, "length", basis.program);
  const lines = takeoff.program.lines.flatMap(({ variant, cuts }) => {
    if (cuts === null) return [];
    const rests = cuts.usableLeft.length === 0 ? "none" : cuts.usableLeft.map(length).join(", ");
    const longer =
      cuts.orderedToLength.length === 0
        ? ""
        : `; longer than a roll, ordered to length: ${cuts.orderedToLength.map(length).join(", ")}`;
    return [wrapped(`${variant}: ${rests}${longer}`, "  ", "    ", width)];
  });
  return [
    "Rests of tube to keep, when the program buys at once",
    ...(lines.length === 0 ? ["  none"] : lines),
  ].join("\n");
}

function differencesText(takeoff: Takeoff, width: number): string {
  const lines = roundings(takeoff)
    .filter(({ row, byDistricts }) => row.bought?.count !== byDistricts)
    .map(({ row, byDistricts }) =>
      wrapped(
        `${row.material} ${row.variant}: ${showCount(row.bought?.count ?? 0)} ${row.bought?.what} at once, ${showCount(byDistricts)} district by district`,
        "  ",
        "    ",
        width,
      ),
    );
  return ["Bought at once or district by district", ...(lines.length === 0 ? ["  the same"] : lines)].join(
    "\n",
  );
}

/** For other programs: whole mm, mL, cm², g and pieces. */
export const takeoffAsJson = (takeoff: Takeoff, { basis }: PlannedProgram): unknown => ({
  program: { name: basis.program.name, as_of: isoDate(basis.program.asOf) },
  units: "lengths in mm, volumes in mL, areas in cm2, masses in g",
  caution: cautionNamed("field measure").text,
  notes: [ROUNDING_NOTE, RESIN_NOTE, NO_LUBRICANT_NOTE],
  rules: basis.materials,
  takeoff,
});
