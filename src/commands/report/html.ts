import type { Picture } from "../../pictures/chart-svg.ts";
import { visible } from "../../screen/cell-text.ts";

/** Text that is markup already. Made by {@link html} alone, so that whatever else is put in is escaped. */
export class Html {
  readonly markup: string;
  constructor(markup: string) {
    this.markup = markup;
  }
}

type Inside = string | number | Html | readonly Inside[];

/** Markup with values put in: text is escaped, markup stays markup. */
export const html = (parts: TemplateStringsArray, ...values: readonly Inside[]): Html =>
  new Html(parts.reduce((page, part, i) => page + markupOf(values[i - 1]!) + part));

function markupOf(value: Inside): string {
  if (value instanceof Html) return value.markup;
  if (typeof value === "object") return value.map(markupOf).join("");
  return escaped(String(value));
}

/** A city's text may hold markup, and characters that turn a line around or hide: they are shown, never obeyed. */
const escaped = (text: string): string =>
  visible(text)
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");

/** The figures everybody asks for first, each with what it is. */
export const figureList = (figures: readonly (readonly [string, string])[]): Html =>
  html`<ul class="figures">${figures.map(([figure, what]) => html`<li><strong>${figure}</strong> ${what}</li>`)}</ul>`;

/** Sentences, each of its own. */
export const bullets = (sentences: readonly string[]): Html =>
  html`<ul>${sentences.map((each) => html`<li>${each}</li>\n`)}</ul>`;

/** Headings of columns that hold numbers. */
export const numeric = (
  ...texts: readonly string[]
): readonly { readonly text: string; readonly numeric: true }[] =>
  texts.map((text) => ({ text, numeric: true }));

/** A table whose first column names the row; the others are numbers where they say so. */
export function table(
  caption: string,
  headings: readonly { readonly text: string; readonly numeric?: true }[],
  rows: readonly (readonly string[])[],
  foot: readonly string[] | null = null,
): Html {
  const kind = (i: number) => (headings[i]?.numeric === true ? html` class="number"` : html``);
  const row = (cells: readonly string[]) =>
    html`<tr>${cells.map((cell, i) =>
      i === 0 ? html`<th scope="row">${cell}</th>` : html`<td${kind(i)}>${cell}</td>`,
    )}</tr>\n`;
  return wide(
    caption,
    html`<table><caption>${caption}</caption>
<thead><tr>${headings.map(({ text }, i) => html`<th scope="col"${kind(i)}>${text}</th>`)}</tr></thead>
<tbody>${rows.map(row)}</tbody>
${foot === null ? html`` : html`<tfoot>${row(foot)}</tfoot>`}</table>`,
  );
}

/** What may be wider than the screen, and is then moved sideways: by the keyboard too. */
const wide = (label: string, inside: Html): Html =>
  html`<div class="wide" role="group" aria-label="${label}" tabindex="0">${inside}</div>\n`;

/** A picture with its caption; names inside it are made its own, so that several can stand in one page. */
export function figure(picture: Picture, caption: string, key: string): Html {
  const own = picture.svg.replaceAll("picture-", `${key}-`);
  return html`<figure>${wide(caption, html`<div role="img" aria-label="${picture.alt}">${new Html(own)}</div>`)}<figcaption>${caption}</figcaption></figure>\n`;
}
