import { workStatuses } from "../columns/plan-columns.ts";
import { districtName } from "../quantity/district-name.ts";
import { toShown } from "../quantity/measure.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import type { Progress } from "../season/tracking.ts";
import { type BookContents, capital, styleOf } from "./book-contents.ts";
import { HUNDREDTHS, WHOLE } from "./number-format.ts";
import { columnLetter, sumBelow } from "./references.ts";
import { firstRow, type Row, type SheetColumn, type SheetModel } from "./sheet-model.ts";
import { priceNote } from "./summary.ts";

const standingNotes = [
  "Done: lined, accepted or warranty check due; held fixed when the season is planned again. Under way: cleaned or measured. Statuses are decisions of the city.",
  "Spent: costs entered, and the planned cost of laterals done without one. Still planned: cost of the rest, less what is spent on it. Nothing is planned where a lateral is held back: a cross-bore was found there and is not recorded as made safe.",
];

/** How far each district has come. */
export function progressSheet(contents: BookContents): SheetModel {
  const style = styleOf(contents);
  const notes = [priceNote(contents), ...standingNotes];
  const { districts, program } = contents.progress;
  const count = (heading: string, of: (progress: Progress) => number) => ({
    heading,
    width: 10,
    format: WHOLE,
    of,
  });
  const money = (heading: string, of: (progress: Progress) => number) => ({
    heading: `${heading} (${style.currency})`,
    width: 15,
    format: HUNDREDTHS,
    of: (progress: Progress) => of(progress) / 100,
  });
  const columns: readonly (SheetColumn & { readonly of: (progress: Progress) => number })[] = [
    count("Laterals", ({ laterals }) => laterals),
    count("Left as they are", ({ noWork }) => noWork),
    count("Done", ({ byStanding }) => byStanding.done),
    count("Under way", ({ byStanding }) => byStanding["under way"]),
    count("To do", ({ byStanding }) => byStanding["to do"]),
    count("Held back", ({ byStanding }) => byStanding["held back"]),
    count("Refused", ({ byStanding }) => byStanding.refused),
    ...workStatuses.map((status) => count(`Status ${capital(status)}`, ({ byStatus }) => byStatus[status])),
    money("Spent", ({ spent }) => spent),
    money("of it as planned", ({ spentAsPlanned }) => spentAsPlanned),
    money("Still planned", ({ stillToSpend }) => stillToSpend),
    count("Work left without a price", ({ unpriced }) => unpriced),
    {
      heading: "Crew-days left",
      width: 11,
      format: HUNDREDTHS,
      of: ({ crewMinutesLeft }) => crewMinutesLeft / contents.program.basis.steps.shiftMinutes,
    },
    {
      heading: `Installed (${unitLabel("length", style)})`,
      width: 12,
      format: HUNDREDTHS,
      of: ({ installedMillimetres }) => toShown(installedMillimetres / 1000, "length", style.units),
    },
  ];
  const first = firstRow(notes);
  return {
    name: "Progress",
    title: "Progress by district",
    notes,
    columns: [{ heading: "District", width: 20 }, ...columns.map(({ of: _, ...column }) => column)],
    rows: districts.map((own): Row => [districtName(own.district), ...columns.map(({ of }) => of(own))]),
    foot: [
      [
        "Program",
        ...columns.map(({ of }, i) => sumBelow(columnLetter(i + 1), first, districts.length, of(program))),
      ],
    ],
    frozenColumns: 1,
    pagesWide: 2,
    locked: false,
  };
}
