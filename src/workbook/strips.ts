import { drawStrip } from "../pictures/pipe-strip.ts";
import { stripOf } from "../plan/explain-along.ts";
import { numberAt } from "../sheet/table.ts";
import { type BookContents, styleOf } from "./book-contents.ts";
import { listOfLaterals } from "./lateral-list.ts";
import { rowsOf, type SheetModel } from "./sheet-model.ts";

/** Letters across: what a landscape page holds in a type of fixed width. */
const WIDTH = 110;

/**
 * The pipes drawn along their length, in the order of the ranking: those whose structural grade asks for lining and whose surveys say
 * where something was seen. No sheet where there is none.
 */
export function stripsSheets(contents: BookContents): readonly SheetModel[] {
  const { order } = contents.program;
  const drawn = drawnRows(contents);
  const parts = listOfLaterals(contents, order, {
    count: (row) => drawn.get(row)?.length ?? 0,
    *entries(row) {
      for (const cells of drawn.get(row) ?? []) yield cells;
    },
  }).parts.filter(({ length }) => length > 0);
  return parts.map((part) => ({
    name: part.nameOf("Strips"),
    title: part.nameOf("Strips: where defects and sections lie"),
    notes: [
      "Pipes that ask for lining, in the order of the ranking. Distances from the main, as the camera counted them: confirm in the field.",
      ...part.notes,
    ],
    columns: [
      { heading: "Lateral", width: 14 },
      { heading: "Treatment", width: 28 },
      { heading: "Along the pipe", width: WIDTH + 10, drawn: true },
    ],
    rows: rowsOf(part, (cells) => cells),
    frozenColumns: 1,
    pagesWide: 1,
    locked: false,
  }));
}

type StripRow = readonly [lateral: string | null, treatment: string | null, strip: string | null];

/** Kept, unlike other long lists: only pipes that ask for lining are drawn, and how many lines each takes is known only then. */
function drawnRows(contents: BookContents): ReadonlyMap<number, readonly StripRow[]> {
  const { program, recordAt } = contents;
  const rows = new Map<number, readonly StripRow[]>();
  if (program.tables.observations === undefined || program.tables.observations === null) return rows;
  const { lineFromStructural } = program.basis.treatments.thresholds;
  for (const row of program.order) {
    if (!(numberAt(program.laterals, "structural_grade", row) >= lineFromStructural)) continue;
    const record = recordAt(row);
    const strip = stripOf(record, styleOf(contents));
    if (strip === null) continue;
    rows.set(row, [
      ...drawStrip(strip, WIDTH).map(
        (text, i): StripRow =>
          i === 0 ? [record.lateral.id, record.choice.treatment, text] : [null, null, text],
      ),
      [null, null, null],
    ]);
  }
  return rows;
}
