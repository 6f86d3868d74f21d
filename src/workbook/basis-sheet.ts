import type { BasisRow } from "./basis-rows.ts";
import type { Row, SheetModel } from "./sheet-model.ts";

/** Every value with its unit and source; assumptions are marked. */
export function basisSheet(name: string, rows: readonly BasisRow[], locked: boolean): SheetModel {
  return {
    name,
    title: name,
    notes: [
      "What the plan rests on. An assumption has no published source, or one from memory: it is to be confirmed. " +
        "The specification governs where it says otherwise.",
    ],
    columns: [
      { heading: "Group", width: 22, wrap: true },
      { heading: "Value of", width: 38, wrap: true },
      { heading: "Value", width: 20, wrap: true },
      { heading: "Unit", width: 9 },
      { heading: "Assumed", width: 11 },
      { heading: "Source", width: 84, wrap: true },
    ],
    rows: rows.map(
      ({ group, what, value, unit, source, assumed }): Row => [
        group,
        what,
        value,
        unit,
        assumed ? "assumption" : "",
        source,
      ],
    ),
    frozenColumns: 0,
    pagesWide: 1,
    locked,
    filtered: true,
  };
}
