import { showDate, showWrittenDate } from "../../quantity/show-date.ts";
import { showCount } from "../../quantity/show-quantity.ts";
import type { ProgramHead } from "../../reference/basis.ts";
import type { ReportContents, ReportSection } from "./contents.ts";
import { Html, html } from "./html.ts";
import { pageStyle } from "./page-style.ts";
import type { ReportedSeason } from "./reported-season.ts";
import { seasonFigures, seasonSections } from "./season-sections.ts";
import { keyFigures, reportSections } from "./sections.ts";

/** The report on the whole plan. */
export function reportPage(contents: ReportContents): string {
  const { name, asOf, print } = contents.program.basis.program;
  return page(contents.program.basis.program, {
    title: name,
    about: `Report on the whole plan for sewer laterals, not on what a season takes of it, as of ${showDate(asOf, print.dates)}`,
    warnings: [],
    figures: keyFigures(contents),
    sections: reportSections(contents),
  });
}

/** The report on a saved season: what a council decides about. */
export function seasonPage(season: ReportedSeason): string {
  const head = season.whole.basis.program;
  const { run, whole, missing } = season;
  const saved = showWrittenDate(run.saved.when.slice(0, "2026-03-01".length), head.print.dates);
  return page(head, {
    title: `${head.name}: season ${season.name}`,
    about: `Report on what one season does of the plan for sewer laterals, selected and saved on ${saved}, as of ${showDate(head.asOf, head.print.dates)}. The whole plan has a report of its own.`,
    warnings: [
      ...(whole.season?.isFilled === true
        ? []
        : [
            "This season was selected from another plan than the one it is shown with: its works stand here at the costs of the plan as it is now, for which nothing is proven. Select and save it again before anything is decided.",
          ]),
      ...(missing === 0
        ? []
        : [
            `${showCount(missing)} lateral(s) of the season are not in the program any more, or their treatment is not allowed or has no price any more: what the season costs and what it spares is without them, and marked *.`,
          ]),
    ],
    figures: seasonFigures(season),
    sections: seasonSections(season),
  });
}

interface Page {
  readonly title: string;
  readonly about: string;
  /** What stands in the way of deciding by it. */
  readonly warnings: readonly string[];
  readonly figures: Html;
  readonly sections: readonly ReportSection[];
}

/**
 * A report as one HTML file that stands alone: no script, nothing fetched, and a policy in its head that lets a browser
 * refuse both.
 */
const page = ({ print }: ProgramHead, { title, about, warnings, figures, sections }: Page): string =>
  html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${title}: report</title>
<style>${new Html(pageStyle(print.paper))}</style>
</head>
<body>
<header>
<h1>${title}</h1>
<p>${about}</p>
<p class="draft"><strong>A plan, not a design.</strong> Local codes, the specification and a licensed engineer govern: they
confirm treatments, walls and quantities before any work. No address or resident is named in this report.</p>
${warnings.map((warning) => html`<p class="draft"><strong>Out of date.</strong> ${warning}</p>\n`)}${figures}
<nav aria-label="Contents"><ul>${sections.map(({ key, heading }) => html`<li><a href="#${key}">${heading}</a></li>`)}</ul></nav>
</header>
<main>
${sections.map(
  ({ key, heading, body }) => html`<section id="${key}" aria-labelledby="${key}-heading">
<h2 id="${key}-heading">${heading}</h2>
${body}</section>\n`,
)}</main>
</body>
</html>
`.markup;
