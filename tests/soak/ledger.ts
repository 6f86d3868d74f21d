/**
 * What decisions.csv says, read without the program: its own words for its own small cells (no quotes, no commas), so
 * that a mistake of the program's reader cannot hide a lost decision.
 */

export type Entry =
  | { readonly kind: "set"; readonly lateral: string; readonly value: string; readonly reason: string }
  | { readonly kind: "undo" | "redo"; readonly target: number };

/** Closed change sets in the order of the file, and whether anything stands behind the last of them. */
export function readLedger(text: string): { readonly entries: readonly Entry[]; readonly torn: boolean } {
  const entries: Entry[] = [];
  const lines = text.split("\n");
  let open: { readonly set: string; readonly records: string[][] } | null = null;
  let torn = lines.at(-1) !== "";
  for (const line of lines.slice(1, -1)) {
    const cells = line.split(",");
    const [, set = "", kind] = cells;
    if (kind === "close") {
      const records = open?.set === set ? open.records : [];
      if (records.length !== 1 || cells[8] !== "1 record") torn = true;
      else entries.push(entryOf(records[0]!));
      open = null;
    } else if (open === null) open = { set, records: [cells] };
    else open.records.push(cells);
  }
  if (open !== null) torn = true;
  return { entries, torn };
}

function entryOf(cells: readonly string[]): Entry {
  const [, , kind = "", target = "", , , lateral = "", , value = "", reason = ""] = cells;
  return kind === "undo" || kind === "redo"
    ? { kind, target: Number(target) }
    : { kind: "set", lateral, value, reason };
}

/** What holds after these change sets, by hand: an undo takes back the latest that stands, a set forgets the redos. */
export function standingValues(entries: readonly Entry[]): ReadonlyMap<string, string> {
  const { done } = stacks(entries);
  const values = new Map<string, string>();
  for (const number of done) {
    const entry = entries[number - 1]!;
    if (entry.kind === "set") values.set(entry.lateral, entry.value);
  }
  return values;
}

/** Numbers of the sets that stand, and of those taken back, latest last. */
export function stacks(entries: readonly Entry[]): { readonly done: number[]; readonly undone: number[] } {
  const done: number[] = [];
  const undone: number[] = [];
  for (const [i, { kind }] of entries.entries()) {
    if (kind === "set") {
      done.push(i + 1);
      undone.length = 0;
    } else if (kind === "undo") undone.push(done.pop() ?? Number.NaN);
    else done.push(undone.pop() ?? Number.NaN);
  }
  return { done, undone };
}
