import { Unreadable } from "./unreadable.ts";
import { attributesOf, scanXml } from "./xml-tokens.ts";

/** A value that is text; our own. */
export interface Words {
  readonly words: string;
}

/** A cell that somebody types into: a number or nothing, and no formula that stood there. */
export interface Typed {
  readonly typed: string | null;
}

export type CellValue = string | Words | Typed;

const xmlText = (text: string): string => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");

/**
 * A sheet's XML with other values in some cells, every other byte as it was: styles, formulas and whatever a writer of
 * ours would not know stay. Values are numbers as text, so that cents are exact, or words; a formula keeps its text, but for one where
 * somebody types.
 *
 * @throws Unreadable when a cell is not in the sheet
 */
export function setCells(xml: string, values: ReadonlyMap<string, CellValue>): string {
  const pieces: string[] = [];
  let copied = 0;
  let set = 0;
  let cell: { readonly from: number; readonly address: string; readonly attributes: string } | null = null;
  let formula: { from: number; to: number } | null = null;
  scanXml(xml, {
    open(name, attributes, from, to) {
      if (name === "c") {
        cell = { from, address: attributesOf(attributes).get("r") ?? "", attributes };
        formula = null;
      } else if (name === "f") formula = { from, to };
    },
    close(name, _from, to) {
      if (name === "f" && formula !== null) formula.to = to;
      if (name !== "c" || cell === null) return;
      const value = values.get(cell.address);
      if (value === undefined) return;
      const tag = /^<([^\s/>]+)/.exec(xml.slice(cell.from, cell.from + 40))?.[1] ?? "c";
      const prefix = tag.slice(0, -1);
      // Without a type a value is a number.
      const attributes = cell.attributes.replace(/\st\s*=\s*("[^"]*"|'[^']*')/, "");
      const isTyped = typeof value !== "string" && "typed" in value;
      const kept = formula === null || isTyped ? "" : xml.slice(formula.from, formula.to);
      const words = typeof value !== "string" && "words" in value ? xmlText(value.words) : null;
      const number = isTyped ? value.typed : value;
      const type = words === null ? "" : kept === "" ? ' t="inlineStr"' : ' t="str"';
      const content =
        words === null
          ? number === null
            ? ""
            : `<${prefix}v>${number}</${prefix}v>`
          : kept === ""
            ? `<${prefix}is><${prefix}t>${words}</${prefix}t></${prefix}is>`
            : `<${prefix}v>${words}</${prefix}v>`;
      pieces.push(xml.slice(copied, cell.from), `<${tag}${attributes}${type}>${kept}${content}</${tag}>`);
      copied = to;
      set++;
    },
    text() {},
  });
  if (set !== values.size)
    throw new Unreadable(
      `${values.size - set} of the cells to fill not in the sheet`,
      "the book as issued",
      "Ask the city for its book again.",
    );
  return [...pieces, xml.slice(copied)].join("");
}
