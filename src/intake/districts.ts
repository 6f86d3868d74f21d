import { showCount } from "../quantity/show-quantity.ts";
import { type ExpectedRows, GrowingWords } from "../sheet/grow.ts";
import type { CodeColumn, ColumnData } from "../sheet/table.ts";
import { CellMemo } from "./cell-memo.ts";
import type { ProblemList } from "./cell-problem.ts";
import type { ColumnReader } from "./cell-readers.ts";
import type { ColumnCells } from "./column-cells.ts";
import type { MissingWords } from "./missing-words.ts";

/** The district's name → other ways the city's files write it. From the program's settings. */
export type DistrictAliases = Readonly<Record<string, readonly string[]>>;

/**
 * What two spellings of one district have in common: letters and digits, lower case. `LS-14`, `LS14` and `L.S. 14`
 * are one; a mark between two digits stays, so `1-14` and `11-4` are two.
 */
export function districtKey(label: string): string {
  const key = label
    .normalize("NFC")
    .toLowerCase()
    .replace(/(\p{N})[^\p{L}\p{N}]+(?=\p{N})/gu, "$1-")
    .replace(/[^\p{L}\p{N}-]|(?<!\p{N})-|-(?!\p{N})/gu, "");
  return key === "" ? label : key;
}

/** Reads district labels as the file writes them; which are the same is decided when all are known. */
export class DistrictReader implements ColumnReader {
  readonly #labels: GrowingWords;
  readonly #missing: MissingWords;
  readonly #aliases: DistrictAliases;
  readonly #heading: string;
  readonly #problems: ProblemList;
  readonly #named: ReadonlyMap<string, string>;
  readonly #memo = new CellMemo();

  constructor(
    missing: MissingWords,
    aliases: DistrictAliases,
    heading: string,
    problems: ProblemList,
    expected: ExpectedRows,
  ) {
    this.#labels = new GrowingWords([], expected);
    this.#missing = missing;
    this.#aliases = aliases;
    this.#heading = heading;
    this.#problems = problems;
    this.#named = namesByKey(aliases, heading, problems);
  }

  take(cells: ColumnCells): void {
    const { bytes, bounds, first, place, count } = cells;
    const codes = this.#labels.room(count);
    for (let i = 0; i < count; i++) {
      const at = first[i]! + place;
      const known = this.#memo.find(bytes, bounds[at]! + 1, bounds[at + 1]!);
      codes[i] = known < 0 ? this.#read(cells, i) : this.#memo.values[known]!;
    }
  }

  finish(): ColumnData {
    return this.#merged(this.#labels.finish());
  }

  #read(cells: ColumnCells, i: number): number {
    const label = cells.text(i).replace(/\s+/g, " ").trim();
    // A district may be called NA: the alias table goes before the words for missing.
    const isMissing = !this.#named.has(districtKey(label)) && this.#missing.has(label);
    const code = isMissing ? 0 : this.#labels.codeOf(label);
    this.#memo.keep(cells.bytes, cells.from(i), cells.to(i), code);
    return code;
  }

  /** Spellings of one district under one name, names in alphabetical order so that the order of rows does not matter. */
  #merged(labels: CodeColumn): CodeColumn {
    const rowsOf = new Uint32Array(labels.words.length);
    for (const code of labels.codes) rowsOf[code] = (rowsOf[code] ?? 0) + 1;
    const groups = new Map<string, { label: string; rows: number }[]>();
    for (const [code, label] of labels.words.entries()) {
      if (code === 0) continue;
      const spellings = groups.get(districtKey(label)) ?? [];
      spellings.push({ label, rows: rowsOf[code] ?? 0 });
      groups.set(districtKey(label), spellings);
    }
    const nameOf = new Map<string, string>();
    for (const [key, spellings] of [...groups].sort(([a], [b]) => (a < b ? -1 : 1))) {
      const byRows = spellings.sort((a, b) => b.rows - a.rows || (a.label < b.label ? -1 : 1));
      const name = this.#named.get(key) ?? byRows[0]?.label ?? key;
      for (const { label } of byRows) nameOf.set(label, name);
      this.#report(key, name, byRows);
    }
    const names = [...new Set(nameOf.values())].sort();
    const codeOf = new Map(names.map((name, i) => [name, i + 1]));
    const newCode = labels.words.map((label) => codeOf.get(nameOf.get(label) ?? "") ?? 0);
    const { codes } = labels;
    for (let row = 0; row < codes.length; row++) codes[row] = newCode[codes[row]!]!;
    return { kind: "code", codes, words: ["", ...names] };
  }

  #report(key: string, name: string, spellings: readonly { label: string; rows: number }[]): void {
    if (this.#named.has(key)) return;
    const others = spellings.filter(({ label }) => label !== name);
    if (others.length > 0)
      this.#problems.add(
        "noted",
        null,
        this.#heading,
        others.map(({ label, rows }) => `${label} (${showCount(rows)})`).join(", "),
        "one spelling of a district",
        `Taken as ${JSON.stringify(name)}. If that is right, say so in program.json: "district_aliases": { ${JSON.stringify(name)}: ${JSON.stringify(others.map(({ label }) => label))} }.`,
      );
    if (Object.keys(this.#aliases).length > 0)
      this.#problems.add(
        "noted",
        null,
        this.#heading,
        name,
        "a district of the program's alias table",
        `Kept as a district of its own, ${spellings.reduce((sum, { rows }) => sum + rows, 0)} rows. Add it to "district_aliases" in program.json, as a name or as an alias.`,
      );
  }
}

function namesByKey(
  aliases: DistrictAliases,
  heading: string,
  problems: ProblemList,
): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  for (const [name, others] of Object.entries(aliases)) {
    for (const label of [name, ...others]) {
      const taken = names.get(districtKey(label));
      if (taken === undefined) names.set(districtKey(label), name);
      else if (taken !== name)
        problems.add(
          "rejected",
          null,
          heading,
          label,
          "an alias of one district",
          `The settings give it to ${JSON.stringify(taken)} and to ${JSON.stringify(name)}: the first is used. Remove one.`,
        );
    }
  }
  return names;
}
