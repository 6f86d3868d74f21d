import { showCount } from "./show-quantity.ts";

/** The first of many names, and how many more there are: `A1, A2 and 1,204 more`. */
export function firstOf(names: readonly (string | number)[], most: number, separator = ", "): string {
  const more = names.length - most;
  return `${names.slice(0, most).join(separator)}${more > 0 ? ` and ${showCount(more)} more` : ""}`;
}
