import { showCount } from "../quantity/show-quantity.ts";
import type { ObservationKinds, ObservationMode } from "../reference/observation-kinds.ts";
import { GrowingWords } from "../sheet/grow.ts";
import type { CodeColumn } from "../sheet/table.ts";
import type { ProblemList } from "./cell-problem.ts";
import type { ColumnReader } from "./cell-readers.ts";
import type { ColumnCells } from "./column-cells.ts";
import type { MissingWords } from "./missing-words.ts";
import { trimmed } from "./trimmed.ts";

/** A city's codes by our kind: `{ "fracture": ["FR-L", "FR-C"] }`. */
export type CityKinds = Readonly<Record<string, readonly string[] | undefined>>;

/** What an observation of a kind counts towards; a kind nobody knows may be anything. */
export type KnownMode = ObservationMode | "unknown";
export const knownModes: readonly KnownMode[] = ["structural", "operation", "inventory", "unknown"];

/** Reads the kind of an observation by the city's own codes, then by plain words; anything else is kept as it is. */
export class KindReader implements ColumnReader {
  readonly #values = new GrowingWords();
  readonly #modes = new GrowingWords(knownModes);
  readonly #kindOf = new Map<string, string>();
  readonly #modeOf: ReadonlyMap<string, ObservationMode>;
  readonly #missing: MissingWords;
  /** Kinds nobody knows, in the order met: how often, and where first. */
  readonly #unknown = new Map<string, { readonly written: string; readonly row: number; count: number }>();

  constructor(kinds: ObservationKinds, citys: CityKinds, missing: MissingWords) {
    this.#missing = missing;
    this.#modeOf = new Map(kinds.kinds.map(({ kind, mode }) => [kind, mode]));
    for (const { kind, words } of kinds.kinds) for (const word of words) this.#kindOf.set(plain(word), kind);
    for (const { kind } of kinds.kinds) this.#kindOf.set(plain(kind), kind);
    // The city's own codes win over plain words.
    for (const [kind, codes] of Object.entries(citys)) {
      if (!this.#modeOf.has(kind)) throw new RangeError(`KindReader: no kind ${JSON.stringify(kind)}`);
      for (const code of codes ?? []) this.#kindOf.set(plain(code), kind);
    }
  }

  take(cells: ColumnCells): void {
    for (let i = 0; i < cells.count; i++) this.takeCell(cells.text(i), cells.rows[i]!);
  }

  takeCell(cell: string, row: number): void {
    const text = trimmed(cell);
    const missing = this.#missing.has(text);
    const kind = this.#kindOf.get(plain(text));
    this.#values.push(kind ?? (missing ? "" : text));
    this.#modes.push(kind === undefined ? "unknown" : (this.#modeOf.get(kind) ?? "unknown"));
    if (kind !== undefined) return;
    const key = missing ? "" : plain(text);
    const met = this.#unknown.get(key);
    if (met === undefined) this.#unknown.set(key, { written: missing ? "" : text, row, count: 1 });
    else met.count++;
  }

  finish(): CodeColumn {
    return this.#values.finish();
  }

  /** What each row counts towards, row for row with the kinds. */
  modes(): CodeColumn {
    return this.#modes.finish();
  }

  /** One problem for each kind that nobody knows. */
  noteUnknown(heading: string | null, problems: ProblemList): void {
    for (const { written: found, row, count } of this.#unknown.values())
      problems.add(
        "noted",
        row,
        heading,
        found,
        found === "" ? "what was seen" : "a kind of the table, or a code of the city",
        found === ""
          ? `${showCount(count)} row(s), this the first: what was seen is not said, so the number of defects is only bounded.`
          : `${showCount(count)} row(s), this the first: kept as text, and the number of defects is only bounded. Write what it is for … in program.json: "observations": { "kinds": { "…": [${JSON.stringify(found)}] } }; … is one of ${[...this.#modeOf.keys()].join(", ")}.`,
      );
  }
}

/** How codes and words are compared: without case, spaces tidied; marks count, since codes differ by them. */
export const plain = (text: string): string => text.trim().replace(/\s+/g, " ").toLowerCase();
