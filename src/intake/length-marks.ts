import { numberAt, numbersOf, type Table, textAt, withColumns } from "../sheet/table.ts";
import type { ProblemList } from "./cell-problem.ts";
import { FILE_ROW } from "./row-columns.ts";

/** What a length mark says: this row starts or ends the continuous observation of that number. */
export interface LengthMark {
  readonly end: "start" | "finish";
  readonly number: string;
}

/**
 * Reads a length mark: a word or letter for start or finish and the number of the length, such as `S01`, `finish 2`,
 * `A3`. EN 13508-2 marks the two ends with A and B, English files often with S and F.
 *
 * @returns null for a text that is no such mark
 */
export function readLengthMark(text: string): LengthMark | null {
  const found = /^(s|a|start|begin|f|b|e|finish|end)[\s.:_-]*0*(\d{1,4})$/i.exec(text.trim());
  if (found === null) return null;
  const [, word = "", number = ""] = found;
  return { end: starts.has(word.toLowerCase()) ? "start" : "finish", number };
}

const starts: ReadonlySet<string> = new Set(["s", "a", "start", "begin"]);

/**
 * Makes one continuous observation of the two rows that mark its ends: the row of the start reaches to the other's
 * distance and has the worse of both grades, and the row of the finish stays in the table as inventory, so that
 * nothing is counted twice and no row is lost. Ends without a partner stay what they are at their point, and that is said.
 *
 * @param table rows by survey and, within one, by distance; rows of different surveys, or of none, never pair
 */
export function joinMarkedLengths(
  table: Table,
  surveyKey: string,
  modeKey: string,
  problems: ProblemList,
): Table {
  const surveyOf = numbersOf(table, surveyKey);
  const mode = table.columns.get(modeKey);
  if (mode?.kind !== "code") throw new RangeError(`joinMarkedLengths: no column of words ${modeKey}`);
  const inventory = mode.words.indexOf("inventory");
  const to = shared(Float64Array, numbersOf(table, "to"));
  const grade = shared(Float64Array, numbersOf(table, "grade"));
  const codes = shared(Uint32Array, mode.codes);
  const note = (row: number, found: string, expected: string, remedy: string) =>
    problems.add("noted", numberAt(table, FILE_ROW, row), null, found, expected, remedy);

  let open = new Map<string, number>();
  const leaveOpen = () => {
    for (const row of open.values())
      note(
        row,
        `length mark ${textAt(table, "length_mark", row)} without its finish`,
        "a finish mark of the same number in the same survey",
        "The observation is taken as one at this point; its length is not known.",
      );
    open = new Map();
  };

  let survey = Number.NaN;
  for (let row = 0; row < table.rows; row++) {
    const of = surveyOf[row] ?? Number.NaN;
    if (of !== survey) {
      leaveOpen();
      survey = of;
    }
    const text = textAt(table, "length_mark", row);
    if (text === "" || Number.isNaN(of)) continue;
    const mark = readLengthMark(text);
    if (mark === null) {
      note(
        row,
        `length mark ${JSON.stringify(text)}`,
        "start or finish and a number, such as S01 and F01",
        "The observation is taken as one at this point.",
      );
      continue;
    }
    const other = open.get(mark.number);
    if (mark.end === "start") {
      if (other !== undefined)
        note(
          row,
          `a second start of length ${mark.number}`,
          "its finish first",
          "The earlier one is taken as one at its point.",
        );
      open.set(mark.number, row);
      continue;
    }
    if (other === undefined) {
      note(
        row,
        `length mark ${text} without its start`,
        "a start mark of the same number nearer to where the survey started",
        "The observation is taken as one at this point.",
      );
      continue;
    }
    open.delete(mark.number);
    const kinds = [textAt(table, "kind", other), textAt(table, "kind", row)] as const;
    if (kinds[0] !== kinds[1]) {
      note(
        row,
        `length ${mark.number} starts as ${kinds[0] || "nothing said"} and ends as ${kinds[1] || "nothing said"}`,
        "both ends of one kind",
        "Both are taken as observations at their points.",
      );
      continue;
    }
    to[other] = numberAt(table, "from", row);
    grade[other] = worse(grade[other] ?? Number.NaN, grade[row] ?? Number.NaN);
    codes[row] = inventory;
  }
  leaveOpen();
  return withColumns(table, [
    ["to", { kind: "number", values: to }],
    ["grade", { kind: "number", values: grade }],
    [modeKey, { ...mode, codes }],
  ]);
}

/** The worse of two grades; a missing one says nothing. */
const worse = (a: number, b: number): number => (Number.isNaN(a) ? b : Number.isNaN(b) ? a : Math.max(a, b));

function shared<T extends Float64Array | Uint32Array>(
  Of: { new (buffer: SharedArrayBuffer): T; readonly BYTES_PER_ELEMENT: number },
  values: ArrayLike<number>,
): T {
  const copy = new Of(new SharedArrayBuffer(values.length * Of.BYTES_PER_ELEMENT));
  copy.set(Array.from(values));
  return copy;
}
