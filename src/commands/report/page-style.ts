import type { PrintStyle } from "../../reference/basis.ts";

/** How the report looks: black on white, nothing from elsewhere; on paper a section never loses its heading. */
export const pageStyle = (paper: PrintStyle["paper"]): string => `
:root { color-scheme: light; }
body { font: 16px/1.5 "DejaVu Sans", Verdana, sans-serif; color: #1f2328; background: #ffffff; margin: 0 auto; max-width: 60rem; padding: 1.5rem; }
h1 { font-size: 1.8rem; line-height: 1.2; margin: 0 0 .3rem; }
h2 { font-size: 1.3rem; border-bottom: 2px solid #0a4f7d; padding-bottom: .2rem; margin: 2.2rem 0 .8rem; }
.draft { border: 2px solid #8a3b00; padding: .6rem .9rem; margin: 1rem 0; }
.figures { display: flex; flex-wrap: wrap; gap: .8rem; padding: 0; margin: 1rem 0; list-style: none; }
.figures li { border: 1px solid #57606a; padding: .5rem .9rem; min-width: 7rem; flex: 1; }
.figures strong { display: block; font-size: 1.4rem; }
figure { margin: 1rem 0; }
figure svg { max-width: 100%; height: auto; }
figcaption, .small { font-size: .875rem; color: #424a53; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin: .8rem 0; font-size: .9rem; }
caption { text-align: left; break-after: avoid; font-weight: bold; padding-bottom: .3rem; }
th, td { border: 1px solid #8c959f; padding: .25rem .55rem; text-align: left; vertical-align: top; }
thead th { background: #e7edf2; }
tfoot th, tfoot td { font-weight: bold; border-top: 2px solid #1f2328; }
.number { text-align: right; font-variant-numeric: tabular-nums; }
.sources { font-size: .8rem; line-height: 1.35; columns: 2; column-gap: 2rem; padding-left: 1.6rem; }
nav ul { columns: 2; padding-left: 1.2rem; }
a { color: #0a4f7d; }
li { overflow-wrap: anywhere; }
@page { size: ${paper}; margin: 18mm 16mm; }
@media print {
  #money { break-after: page; }
  #money table { width: 100%; margin: .4rem 0; }
  #money td, #money th { padding: .12rem .5rem; }
  #money h2 { margin-top: 1rem; }
  #money ul { margin: .4rem 0; }
  .figures { gap: .4rem; margin: .6rem 0; flex-wrap: nowrap; }
  .figures li { min-width: 0; padding: .3rem .5rem; font-size: 8.5pt; }
  .figures strong { font-size: 11pt; white-space: nowrap; }
  .draft { margin: .6rem 0; }
  p, li { break-inside: avoid; }
  .sources { font-size: 7.5pt; line-height: 1.25; }
  #gaps li, .small { font-size: 8.5pt; }
  #gaps ul { line-height: 1.3; }
  body { line-height: 1.4; font-size: 10.5pt; max-width: none; padding: 0; }
  nav { display: none; }
  h2 { break-after: avoid; }
  figure, tr, table, .figures, .draft { break-inside: avoid; }
  table { font-size: 9.5pt; }
  p:has(+ figure) { break-after: avoid; }
  thead { display: table-header-group; }
  .wide { overflow: visible; }
  a { color: inherit; text-decoration: none; }
}
`;
