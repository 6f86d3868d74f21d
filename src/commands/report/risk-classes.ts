import type { MarkClass } from "../../pictures/lateral-map.ts";

/** Classes by place in the ranking: risk is relative, so a class is a part of the order and no level of danger. */
export const riskClasses: readonly (MarkClass & { readonly upTo: number })[] = [
  { name: "first tenth of the ranking", shape: "triangle", colour: "#a40000", upTo: 0.1 },
  { name: "up to the first quarter", shape: "square", colour: "#e69f00", upTo: 0.25 },
  { name: "up to the half", shape: "circle", colour: "#0072b2", upTo: 0.5 },
  { name: "the rest", shape: "ring", colour: "#57606a", upTo: 1 },
];

/** The class of each lateral, by its row. */
export function classesByRank(order: Uint32Array): Uint8Array {
  const classes = new Uint8Array(order.length);
  order.forEach((row, place) => {
    classes[row] = riskClasses.findIndex(({ upTo }) => place + 1 <= Math.ceil(upTo * order.length));
  });
  return classes;
}
