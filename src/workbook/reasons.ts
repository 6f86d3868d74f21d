import type { PlannedLateral } from "../plan/plan-lateral.ts";
import { describeReason, type Reason } from "../plan/reason.ts";
import type { Stated } from "../plan/stated.ts";
import { districtName } from "../quantity/district-name.ts";
import { type BookContents, printedStyle } from "./book-contents.ts";
import { type Ranked, rankedLaterals } from "./lateral-list.ts";
import { WHOLE } from "./number-format.ts";
import { type Row, rowsOf, type SheetModel } from "./sheet-model.ts";

/** Why each lateral is treated as it is, why not otherwise, and what had to be assumed for it. */
export function reasonsSheets(contents: BookContents): readonly SheetModel[] {
  return rankedLaterals(contents).parts.map((part) => ({
    name: part.nameOf("Reasons"),
    title: part.nameOf("Reasons"),
    notes: [
      "In the order of the ranking. An assumed value stands where the city's files say nothing: it is to be measured.",
      ...part.notes,
    ],
    columns: [
      { heading: "Rank", width: 7, format: WHOLE },
      { heading: "Lateral", width: 13 },
      { heading: "District", width: 15, wrap: true },
      { heading: "Treatment", width: 20, wrap: true },
      { heading: "Why", width: 34, wrap: true },
      { heading: "Condition and risk", width: 36, wrap: true },
      { heading: "Refused treatments, and why", width: 54, wrap: true },
      { heading: "Assumed or decided", width: 26, wrap: true },
    ],
    rows: rowsOf(part, (lateral) => reasonsRow(contents, lateral)),
    frozenColumns: 2,
    pagesWide: 1,
    locked: false,
    filtered: true,
  }));
}

function reasonsRow({ program, recordAt }: BookContents, { row, rank }: Ranked): Row {
  const inWords = (reason: Reason) => describeReason(reason, printedStyle(program.basis.program));
  const lines = (reasons: readonly Reason[]) => reasons.map(inWords).join("\n");
  const record = recordAt(row);
  const { lateral, condition, risk, verdicts, choice } = record;
  return [
    rank,
    lateral.id,
    districtName(lateral.district),
    choice.treatment,
    lines(choice.reasons),
    lines([...condition.reasons, ...condition.reinspect, ...risk.reasons]),
    verdicts.all
      .filter((verdict) => !verdict.eligible)
      .map(({ treatment, reasons }) => `${treatment}: ${reasons.map(inWords).join("; ")}`)
      .join("\n"),
    [...assumedFor(record), ...decidedFor(record)].join("\n"),
  ];
}

/** The assumptions that the plan of this lateral rests on, each once. */
function assumedFor({ chosen, effluent, risk }: PlannedLateral): readonly string[] {
  const { wall } = chosen;
  const inputs = wall === null ? [] : [...Object.values(wall.inputs), effluent.kind, effluent.temperature];
  const scores = [risk.likelihood, risk.consequence].filter((score) => score !== null);
  const used: readonly Stated<unknown>[] = [...inputs, ...scores];
  return [
    ...new Set(
      used.flatMap(({ origin, because }) =>
        origin === "assumed" ? [`assumed: ${because ?? "no label"}`] : [],
      ),
    ),
  ];
}

/** The values that a person decided for this lateral, with the reasons given. */
function decidedFor({ lateral }: PlannedLateral): readonly string[] {
  const { decided, tracked, inspections: _, ...values } = lateral;
  return Object.entries({ ...values, ...decided, ...tracked }).flatMap(([key, value]) =>
    value !== null && typeof value === "object" && value.origin === "decided"
      ? [`decided: ${spaced(key)}, ${value.because ?? "no reason given"}`]
      : [],
  );
}

/** `hostDiameter` as `host diameter`. */
const spaced = (key: string): string => key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
