import { describeSource, type Source } from "../reference/source.ts";

/** Puts `[n]` in the place of each source that a text names, and lists them in the order of their first mention. */
export interface Citations {
  readonly cite: (text: string) => string;
  readonly list: () => readonly string[];
}

/**
 * @param tables anything that holds sources at any depth: each is found in a text by the words that describe it
 * @param listed how a source is written in the list
 */
export function citationsOf(tables: unknown, listed: (source: Source) => string): Citations {
  const sources = new Map<string, Source>();
  gather(tables, sources);
  // A longer description may hold a shorter one.
  const known = [...sources.keys()].sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  const cited: string[] = [];
  return {
    cite: (text) => {
      let found = text;
      for (const described of known) {
        if (!found.includes(described)) continue;
        if (!cited.includes(described)) cited.push(described);
        found = found.replaceAll(described, `[${cited.indexOf(described) + 1}]`);
      }
      return found.replaceAll(/\. (\[\d+\])/g, " $1");
    },
    list: () => cited.map((described) => listed(sources.get(described)!)),
  };
}

function gather(value: unknown, into: Map<string, Source>): void {
  if (typeof value !== "object" || value === null) return;
  if (!Array.isArray(value) && "document" in value && typeof value.document === "string") {
    const source = value as Source;
    into.set(describeSource(source), source);
    return;
  }
  for (const inner of Object.values(value)) gather(inner, into);
}
