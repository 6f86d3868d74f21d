import type { Caution } from "../reference/cautions.ts";
import { describeSource } from "../reference/source.ts";
import type { Row, SheetModel } from "./sheet-model.ts";

/** Where the planned work can hurt someone. */
export function cautionsSheet(cautions: readonly Caution[], locked: boolean): SheetModel {
  return {
    name: "Cautions",
    title: "Cautions",
    notes: ["For the treatments of this plan. Not complete: the employer's safety program governs."],
    columns: [
      { heading: "Caution", width: 88, wrap: true },
      { heading: "Source", width: 42, wrap: true },
    ],
    rows: cautions.map(({ text, source }): Row => [text, describeSource(source)]),
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked,
  };
}
