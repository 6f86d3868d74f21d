import { showStatedPercent } from "../quantity/percent.ts";
import type { BiddingRules } from "../reference/bidding-rules.ts";
import type { BidView } from "./bid-view.ts";
import type { Row, SheetModel } from "./sheet-model.ts";

const NOT_STATED = "Not stated.";

/** A rule in our own words by what the program states; the clause stands beside it as the city wrote it. */
function ruleRow<Rule extends string>(
  asks: string,
  stated: { readonly rule: Rule; readonly clause: string } | null,
  words: Readonly<Record<Rule, string>>,
  otherwise: string,
): Row {
  return stated === null
    ? [asks, `${NOT_STATED} ${otherwise}`, ""]
    : [asks, words[stated.rule], stated.clause];
}

function totalWordsRow(asked: BiddingRules["totalInWords"]): Row {
  const what = "The total in words and in figures differ";
  if (asked === null) return [what, `${NOT_STATED} The book itself writes its totals in words.`, ""];
  const governs =
    asked.rule === null
      ? "Which governs is not stated: a difference is shown, and nothing is corrected."
      : `The ${asked.rule} govern.`;
  return [what, `Write the total of each part in words on the bid form. ${governs}`, asked.clause];
}

/** How returned bids are read and corrected: what the program's instructions to bidders state, and what they do not. */
export function instructionsSheet(
  rules: BiddingRules,
  { alternates, allowances }: Pick<BidView, "alternates" | "allowances"> = { alternates: [], allowances: [] },
): SheetModel {
  const { mobilizationCap: cap, security } = rules;
  const shown = "A difference is shown, and nothing is corrected.";
  const rows: readonly Row[] = [
    ruleRow(
      "Unit price and extension differ",
      rules.governs,
      {
        "unit price": "The unit price governs; the extension is worked out again from it.",
        extension: "The extension governs; the unit price is worked out again from it.",
      },
      shown,
    ),
    ruleRow(
      "A unit price is missing or cannot be read",
      rules.missingPrice,
      {
        "total over quantity": "It is the extension divided by the quantity, rounded down to the whole cent.",
      },
      "The line stays without a price.",
    ),
    [
      "A unit price is a formula",
      "It is read at the amount that the file holds, which may have two decimals at most (ROUND), and told to the owner with its text. One without a value, or with more decimals, is no price.",
      "",
    ],
    ruleRow(
      "A price in words and in figures differ",
      rules.words,
      { words: "The words govern.", figures: "The figures govern." },
      "This book asks for unit prices in figures only.",
    ),
    totalWordsRow(rules.totalInWords),
    ruleRow(
      "The total differs from the sum of the extensions",
      rules.columnSum,
      { "correct sum": "The correct sum governs." },
      shown,
    ),
    ruleRow(
      "Two bids are equal",
      rules.ties,
      { "drawn by lot": "Equal bids are drawn by lot.", "owner decides": "The owner decides." },
      "A tie is shown, and not broken.",
    ),
    alternates.length === 0
      ? ["Alternates", "None: this book asks for a base bid only.", rules.alternates?.clause ?? ""]
      : ruleRow(
          `Alternates: ${alternates.map(({ number, name }) => `${number} ${name}`).join("; ")}`,
          rules.alternates,
          { "in stated order": "Alternates are taken in the order stated, never out of it." },
          "Each is added to the base bid where the owner takes it; every combination is compared.",
        ),
    allowances.length === 0
      ? ["Allowances", "None.", ""]
      : [
          "Allowances",
          "Carry each allowance of the schedule at the amount printed there, which is the owner's and not to be changed. " +
            "What it is for stands under Measurement and payment; a limit on mobilization leaves it out.",
          "",
        ],
    cap === null
      ? ["Most for mobilization", `${NOT_STATED} The amount is read as it is bid.`, ""]
      : [
          "Most for mobilization",
          `${showStatedPercent(cap.share)} of ${cap.of === "total" ? "the whole base bid" : "the sum of all other items"}. ` +
            (cap.remedy === "reduce"
              ? "What is over is taken off before bids are compared."
              : "It limits payment: what is over is shown, and the bid is compared as it stands."),
          cap.clause,
        ],
    security === null
      ? ["Bid security", `${NOT_STATED} Write on the bid form what comes with the bid.`, ""]
      : ["Bid security", `${showStatedPercent(security.share)} of the bid.`, security.clause],
    [
      "Addenda",
      "Acknowledge each addendum by its number on the bid form. Prices on an earlier issue are not compared. " +
        "An item keeps its number from issue to issue; that of a deleted item stands for no other.",
      "",
    ],
    ["Award", "Left to the owner and counsel. This book decides nothing about it.", ""],
  ];
  return {
    name: "Instructions to bidders",
    title: "Instructions to bidders",
    notes: ["How bids are read and compared. The contract documents govern where they say otherwise."],
    columns: [
      { heading: "What", width: 32, wrap: true },
      { heading: "What applies", width: 52, wrap: true },
      { heading: "Clause, as the owner states it", width: 44, wrap: true },
    ],
    rows,
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}
