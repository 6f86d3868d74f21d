import type { Row, SheetModel } from "./sheet-model.ts";

/** Where the planned work can hurt someone. */
export function cautionsSheet(
  cautions: readonly { readonly text: string; readonly source: string }[],
  locked: boolean,
): SheetModel {
  return {
    name: "Cautions",
    title: "Cautions",
    notes: ["For the treatments of this plan. Not complete: the employer's safety program governs."],
    columns: [
      { heading: "Caution", width: 88, wrap: true },
      { heading: "Source", width: 42, wrap: true },
    ],
    rows: cautions.map(({ text, source }): Row => [text, source]),
    frozenColumns: 0,
    pagesWide: 1,
    locked,
  };
}
