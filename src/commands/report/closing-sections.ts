import { BIAS } from "../../plan/explain-failure.ts";
import { showDate } from "../../quantity/show-date.ts";
import { showCount } from "../../quantity/show-quantity.ts";
import { isAssumption } from "../../reference/source.ts";
import type { PlannedProgram } from "../../season/planned-program.ts";
import { allBasisRows } from "../../workbook/basis-rows.ts";
import { plannedCautions } from "../../workbook/planned-cautions.ts";
import { problemKinds } from "../problem-kinds.ts";
import { type Html, html, numeric, table } from "./html.ts";

interface Of {
  readonly program: PlannedProgram;
}

/** What may not be forgotten in the work, and how the ranking may bend. */
export const cautionBody = ({ program }: Of): Html =>
  html`<ul>${plannedCautions(program).map(({ text }) => html`<li>${text}</li>`)}<li>Risk bends: ${BIAS}.</li></ul>`;

/** Problems of one kind are told once: a council has no use for row numbers. */
const MOST_PROBLEMS = 12;

/** What was found is not shown: it may be an address or a name. */
export function gapBody({ program }: Of): Html {
  const { tallies, problems } = program;
  const rejected = problems.filter(({ severity }) => severity === "rejected").length;
  const first = problemKinds(problems)
    .slice(0, MOST_PROBLEMS)
    .map(({ times, file, column, severity, expected }) => {
      const place = column === null ? file : `${file}, column "${column}"`;
      return `${showCount(times)} × ${place}: ${severity === "rejected" ? "not used" : "used with a note"}; expected ${expected}`;
    });
  return html`${table(
    "Rows of the city's files: every row is accounted for",
    [{ text: "File" }, ...numeric("Read", "Kept", "Duplicates", "Rejected")],
    tallies.map(({ file, read, kept, duplicates, rejected }) => [
      file,
      ...[read, kept, duplicates, rejected].map(showCount),
    ]),
  )}
<p>${showCount(rejected)} value(s) or row(s) could not be taken; ${showCount(problems.length - rejected)} were taken with a note. The most frequent:</p>
<ul>${first.map((what) => html`<li>${what}</li>`)}</ul>`;
}

/** Documents by name, each once: a council checks which they are; where in them each value stands is in the planning book. */
export function basisBody({ program }: Of): Html {
  const rows = allBasisRows(program.basis);
  const assumed = rows.filter(({ source }) => isAssumption(source)).length;
  const documents = new Map<string, number>();
  for (const { source } of rows)
    if (!isAssumption(source)) documents.set(source.document, (documents.get(source.document) ?? 0) + 1);
  const names = [...documents].sort(([a], [b]) => (a < b ? -1 : 1));
  return html`<p>The plan rests on ${showCount(rows.length)} values; ${showCount(assumed)} of them are assumptions without a published source, to be
confirmed by the city. All of them stand in the planning book, each with its unit and the place in its source. As of ${showDate(program.basis.program.asOf, program.basis.program.print.dates)}.</p>
<ol class="sources">${names.map(([words, values]) => html`<li>${words} <em>(${showCount(values)})</em></li>\n`)}</ol>
<p class="small">In brackets: how many values are from it.</p>`;
}
