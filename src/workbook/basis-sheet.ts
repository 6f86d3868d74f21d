import { describeSource, isAssumption } from "../reference/source.ts";

import { WHOLE } from "./number-format.ts";
import type { Row, SheetModel } from "./sheet-model.ts";
import type { BasisRow } from "./table-rows.ts";

/** Every value with its unit and source, and the sources in full, by number; assumptions are marked. */
export function basisSheets(rows: readonly BasisRow[], locked: boolean): readonly SheetModel[] {
  const sources = [...new Map(rows.map(({ source }) => [describeSource(source), source]))];
  const numbers = new Map(sources.map(([words], i) => [words, i + 1]));
  return [
    {
      name: "Basis",
      title: "Basis",
      notes: [
        "What the plan rests on. An assumption has no published source: it is to be confirmed. Sources are written out, by number, on the next sheet. The specification governs where it says otherwise.",
      ],
      columns: [
        { heading: "Group", width: 24, wrap: true },
        { heading: "Value of", width: 44, wrap: true },
        { heading: "Value", width: 22, wrap: true },
        { heading: "Unit", width: 9 },
        { heading: "Assumed", width: 11 },
        { heading: "Source no.", width: 8, format: WHOLE },
        { heading: "Source", width: 43, wrap: true },
      ],
      rows: rows.map(
        ({ group, what, value, unit, source }): Row => [
          group,
          what,
          value,
          unit,
          isAssumption(source) ? "assumption" : "",
          numbers.get(describeSource(source)) ?? null,
          source.document,
        ],
      ),
      frozenColumns: 0,
      pagesWide: 1,
      locked,
      filtered: true,
    },
    {
      name: "Sources",
      title: "Sources",
      notes: ["The sources of the values on the sheet Basis, by number."],
      columns: [
        { heading: "No.", width: 7, format: WHOLE },
        { heading: "Source", width: 120, wrap: true },
      ],
      rows: sources.map(([words], i): Row => [i + 1, words]),
      frozenColumns: 0,
      pagesWide: 1,
      locked,
    },
  ];
}
