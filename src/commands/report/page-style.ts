import type { PrintStyle } from "../../reference/basis.ts";

/**
 * How the report looks: black on white, nothing from elsewhere; on paper a section never loses its heading, and a pixel beside the page
 * keeps the right borders. On a phone wide pictures keep their size and are moved sideways: shrunk to the screen their words would be 6 px
 * high.
 */
export const pageStyle = (paper: PrintStyle["paper"]): string => `
:root { color-scheme: light; }
body { font: 16px/1.5 "DejaVu Sans", Verdana, sans-serif; color: #1f2328; background: #ffffff; margin: 0 auto; max-width: 60rem; padding: 1.5rem; }
h1 { font-size: 1.8rem; line-height: 1.2; margin: 0 0 .3rem; }
h2 { font-size: 1.3rem; border-bottom: 2px solid #0a4f7d; padding-bottom: .2rem; margin: 2.2rem 0 .8rem; }
.draft { border: 2px solid #8a3b00; padding: .6rem .9rem; margin: 1rem 0; }
.figures { display: grid; grid-template-columns: repeat(auto-fit, minmax(8.7rem, 1fr)); gap: .5rem; padding: 0; margin: 1rem 0; list-style: none; }
.figures li { border: 1px solid #57606a; padding: .5rem .6rem; }
.figures strong { display: block; font-size: 1.1rem; }
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
td.number { white-space: nowrap; }
.sources { font-size: .8rem; line-height: 1.35; columns: 2; column-gap: 2rem; padding-left: 1.6rem; }
nav ul { columns: 2; padding-left: 1.2rem; }
a { color: #0a4f7d; }
li { overflow-wrap: anywhere; }
@media screen and (max-width: 50rem) {
  body { padding: 1rem; }
  ul { padding-left: 1.4rem; }
  nav ul { columns: 1; }
  nav li { padding: .35rem 0; }
  th, td { padding: .2rem .35rem; }
  table { font-size: .8rem; }
  figure svg[width="760"] { max-width: none; }
  td:not(.number) { min-width: 14rem; }
  .sources { columns: 1; }
}
@page { size: ${paper}; margin: 18mm 16mm; }
@media print {
  #money { break-after: page; }
  #money table { width: 100%; margin: .4rem 0; }
  #money td, #money th { padding: .12rem .5rem; }
  #money h2 { margin-top: 1rem; }
  #money ul { margin: .4rem 0; }
  .figures { gap: .4rem; margin: .6rem 0; grid-template-columns: none; grid-auto-flow: column; grid-auto-columns: 1fr; }
  .figures li { padding: .3rem .4rem; font-size: 8.5pt; }
  .figures strong { font-size: 10pt; }
  .draft { margin: .6rem 0; }
  p, li { break-inside: avoid; }
  .sources { font-size: 7.5pt; line-height: 1.25; }
  #gaps li, .small { font-size: 8.5pt; }
  #gaps ul { line-height: 1.3; }
  body { line-height: 1.4; font-size: 10.5pt; max-width: none; padding: 0 1px; }
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
