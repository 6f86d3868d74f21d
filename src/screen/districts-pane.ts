import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import { crewDayColumn } from "../quantity/crew-days.ts";
import { districtName } from "../quantity/district-name.ts";
import {
  type NumberStyle,
  showCount,
  showHundredths,
  showNumber,
  showParts,
  unitLabel,
} from "../quantity/show-quantity.ts";
import type { ProgramTotals, Totals } from "../season/totals.ts";
import { wrap } from "./cell-text.ts";
import { type Line, lineOf } from "./line.ts";
import { left, right, type TextRow, tableLines } from "./text-table.ts";

/** Treatments in a word or two, where all of them stand side by side. */
const treatmentHeadings: Readonly<Record<TreatmentKind, string>> = {
  "inspect first": "Inspect",
  "leave and re-inspect": "Leave",
  "clean and cut roots": "Clean",
  "sectional liner": "Section",
  "full-length liner": "Full liner",
  "connection liner": "Connection",
  "open-cut replacement": "Open cut",
  "joint grouting": "Grout",
  "one-piece liner": "One piece",
  "pipe bursting": "Burst",
  "clean and grout": "Clean+grout",
  "sectional and connection liner": "Sect.+conn.",
  "full-length and connection liner": "Full+conn.",
};

/** What each district comes to, and the program as their sum. */
export function districtLines(
  { districts, program }: ProgramTotals,
  style: NumberStyle,
  { priceSource, shiftMinutes }: { readonly priceSource: string; readonly shiftMinutes: number },
  width: number,
): readonly Line[] {
  const columns = [
    left("District"),
    right("Laterals"),
    ...treatmentKinds.map((kind) => right(treatmentHeadings[kind])),
    right(`Liner (${unitLabel("length", style)})`),
    right(`Resin (${unitLabel("volume", style)})`),
    right("Crew-days"),
    right(`Cost (${style.currency})`),
    ...(program.unpriced === 0 ? [] : [right("Without a price")]),
  ];
  const resins = showParts(
    districts.map(({ resinMillilitres }) => resinMillilitres / 1000),
    program.resinMillilitres / 1000,
    "volume",
    style,
  );
  const crewDays = crewDayColumn(
    districts.map(({ crewMinutes }) => crewMinutes),
    shiftMinutes,
  );
  const all = showNumber(program.resinMillilitres / 1000, "volume", style);
  const row = (totals: Totals, resin: string, i: number): TextRow => ({
    cells: [
      totals === program ? "All districts" : nameOf(totals),
      ...figures(totals, resin, crewDays[i]!, style),
    ],
    look: totals === program ? "bold" : "plain",
  });
  return [
    ...tableLines(
      columns,
      [...[...districts, program].map((totals, i) => row(totals, [...resins, all][i]!, i))],
      width,
    ),
    lineOf(""),
    ...notes(program, priceSource).flatMap((note) => wrap(note, width).map((text) => lineOf(text, "dim"))),
  ];
}

const nameOf = ({ district }: Totals): string => districtName(district);

function figures(totals: Totals, resin: string, crewDays: string, style: NumberStyle): readonly string[] {
  return [
    showCount(totals.laterals),
    ...treatmentKinds.map((kind) => showCount(totals.byTreatment[kind])),
    // Lengths are kept in hundredths of the unit people see, so the districts add up as printed.
    showHundredths(
      [...totals.linerLengthByDiameter.values()].reduce((sum, hundredths) => sum + hundredths, 0),
    ),
    resin,
    crewDays,
    showNumber(totals.cost, "money", style),
    showCount(totals.unpriced),
  ];
}

function notes(program: Totals, priceSource: string): readonly string[] {
  return [
    "Liner: full-length and sectional liners in the host. Connection liners are counted, not measured.",
    `Cost at unit prices from: ${priceSource}.`,
    ...(program.unpriced === 0
      ? []
      : ["Laterals whose treatment has an item without a price are not in the cost."]),
  ];
}
