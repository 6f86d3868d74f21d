import { wrap } from "./cell-text.ts";
import { type Line, lineOf } from "./line.ts";
import type { BidSeen } from "./pane-data.ts";
import { left, right, tableLines } from "./text-table.ts";

/** The bid schedule at the city's own prices: what a contractor is asked to price, and what the city expects. */
export function bidLines({ lines, total, unpriced, priceSource }: BidSeen, width: number): readonly Line[] {
  const numbers = tableLines(
    [left("Item"), right("Unit"), right("Quantity"), right("Unit price"), right("Extension")],
    [
      ...lines.map(({ number, unit, quantity, price, extension, label }) => ({
        cells: [
          `${number} ${sizeFirst(label)}`,
          unit,
          quantity,
          price === "" ? "no price" : price,
          extension,
        ],
        look: "plain" as const,
      })),
      { cells: ["Total", "", "", "", total], look: "bold" as const },
    ],
    width,
  );
  const note = (text: string) => wrap(text, width).map((line) => lineOf(line, "dim"));
  return [
    ...numbers,
    lineOf(""),
    ...note(`The city's own estimate; prices from: ${priceSource}. Bidders see quantities and no price.`),
    ...note(
      "A bid of one season alone (--season) has that season's quantities, and numbers its items by them.",
    ),
    ...(unpriced === 0 ? [] : note(`${unpriced} items have no price and are not in the total.`)),
    lineOf(""),
    lineOf("Wording of the items", "bold"),
    ...lines.flatMap(({ number, description }) =>
      wrap(description, Math.max(1, width - 7)).map((text, i) =>
        lineOf(`${(i === 0 ? number : "").padEnd(6)} ${text}`),
      ),
    ),
  ];
}

/** `full-length liner, 4 in` as `4 in, full-length liner`: the end of a name is cut in a narrow window, and lines differ by their sizes. */
function sizeFirst(label: string): string {
  const at = label.indexOf(", ");
  return at < 0 ? label : `${label.slice(at + 2)}, ${label.slice(0, at)}`;
}
