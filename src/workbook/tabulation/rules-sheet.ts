import { showStatedPercent } from "../../quantity/percent.ts";
import type { Row, SheetModel } from "../sheet-model.ts";
import type { Tabulation } from "./tabulation.ts";

/** The instructions to bidders that the corrections go by. */
export function rulesSheet({ rules }: Tabulation): SheetModel {
  const row = (
    what: string,
    rule: { readonly clause: string; readonly rule?: string } | null,
    says = "",
  ): Row => [
    what,
    rule === null ? "not stated" : (rule.rule ?? says),
    rule?.clause ?? "Flagged where it comes up; nothing is corrected by it.",
  ];
  const cap = rules.mobilizationCap;
  return {
    name: "Instructions to bidders",
    title: "Instructions to bidders, as program.json states them",
    notes: [],
    columns: [
      { heading: "About", width: 34 },
      { heading: "Rule", width: 34, wrap: true },
      { heading: "Clause", width: 70, wrap: true },
    ],
    rows: [
      row("Unit price and extension: which governs", rules.governs),
      row("Unit price missing", rules.missingPrice),
      row("Words and figures", rules.words),
      row(
        "Total in words and in figures",
        rules.totalInWords === null
          ? null
          : {
              rule: rules.totalInWords.rule ?? "asked for; not stated which governs",
              clause: rules.totalInWords.clause,
            },
      ),
      row("Column that does not add up", rules.columnSum),
      row("Ties", rules.ties),
      row("Alternates", rules.alternates),
      row(
        "Cap on mobilization",
        cap,
        cap === null ? "" : `${showStatedPercent(cap.share)} of the ${cap.of}; ${cap.remedy}`,
      ),
      row(
        "Bid security",
        rules.security,
        rules.security === null ? "" : showStatedPercent(rules.security.share),
      ),
    ],
    frozenColumns: 0,
    pagesWide: 1,
    locked: false,
  };
}
