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
  const known = [...sources.keys()];
  const cited: string[] = [];
  return {
    cite: (text) => {
      let done = "";
      let rest = text;
      for (let next = firstNamed(rest, known); next !== null; next = firstNamed(rest, known)) {
        if (!cited.includes(next.described)) cited.push(next.described);
        done += `${rest.slice(0, next.at)}[${cited.indexOf(next.described) + 1}]`;
        rest = rest.slice(next.at + next.described.length);
      }
      // A citation follows its word without a full stop between.
      return (done + rest).replaceAll(/[.;] (?=\[\d+\])/g, " ");
    },
    list: () => cited.map((described) => listed(sources.get(described)!)),
  };
}

/** The source named first; of two at one place the longer, which may hold the shorter. */
function firstNamed(text: string, known: readonly string[]) {
  let first: { readonly at: number; readonly described: string } | null = null;
  for (const described of known) {
    const at = text.indexOf(described);
    if (at < 0) continue;
    if (first === null || at < first.at || (at === first.at && described.length > first.described.length))
      first = { at, described };
  }
  return first;
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
