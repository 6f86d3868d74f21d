import { showDate } from "../../quantity/show-date.ts";
import { Html, html } from "./html.ts";
import { pageStyle } from "./page-style.ts";
import { keyFigures, type ReportContents, reportSections } from "./sections.ts";

/**
 * The report as one HTML file that stands alone: no script, nothing fetched, and a policy in its head that lets a browser
 * refuse both.
 */
export function reportPage(contents: ReportContents): string {
  const { name, asOf, print } = contents.program.basis.program;
  const sections = reportSections(contents);
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${name}: report</title>
<style>${new Html(pageStyle(print.paper))}</style>
</head>
<body>
<header>
<h1>${name}</h1>
<p>Report on the whole plan for sewer laterals, not on what a season takes of it, as of ${showDate(asOf, print.dates)}</p>
<p class="draft"><strong>A plan, not a design.</strong> Local codes, the specification and a licensed engineer govern: they
confirm treatments, walls and quantities before any work. No address or resident is named in this report.</p>
${keyFigures(contents)}
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
}
