import type { ColumnKey } from "../columns/dictionary.ts";
import type { Problem } from "../quantity/problem.ts";
import type { ChangeSet, SetRecord } from "./change-sets.ts";
import { readDecision } from "./decision-value.ts";
import { DECISIONS_FILE } from "./program-files.ts";

/** A person's override of one value or choice, as it stands now. */
export interface Decision {
  /** Number in the column's stored unit (flags 0 and 1), or one of the column's words. */
  readonly value: number | string;
  /** The value as written, with its unit. */
  readonly written: string;
  readonly reason: string;
  readonly who: string;
  readonly when: string;
  /** Id of the record in decisions.csv. */
  readonly id: number;
}

export type Decisions = ReadonlyMap<string, ReadonlyMap<ColumnKey, Decision>>;

/** What holds now, lateral by lateral, and what could not be used. */
export interface DecisionState {
  readonly decisions: Decisions;
  readonly problems: readonly Problem[];
  /** The change set an undo takes back; null when there is none. */
  readonly undoable: Extract<ChangeSet, { kind: "set" }> | null;
  /** The change set a redo brings back: the last one undone, as long as nothing new was decided since. */
  readonly redoable: Extract<ChangeSet, { kind: "set" }> | null;
}

/**
 * The decisions that stand after these change sets, in order: a later one replaces an earlier one.
 *
 * @param latestYear as {@link readDecision} takes it
 */
export function foldDecisions(
  sets: readonly ChangeSet[],
  latestYear = Number.POSITIVE_INFINITY,
): DecisionState {
  const problems: Problem[] = [];
  const { standing, redoable } = standingSets(sets, problems);
  const decisions = new Map<string, Map<ColumnKey, Decision>>();
  for (const set of standing)
    for (const record of set.records) enter(decisions, record, set, problems, latestYear);
  for (const [lateral, columns] of decisions) if (columns.size === 0) decisions.delete(lateral);
  return { decisions, problems, undoable: standing.at(-1) ?? null, redoable };
}

/** The decisions that stand in a log; {@link foldDecisions} also says which records could not be used. */
export const currentDecisions = (log: { readonly sets: readonly ChangeSet[] }): Decisions =>
  foldDecisions(log.sets).decisions;

function standingSets(sets: readonly ChangeSet[], problems: Problem[]) {
  const known = new Map<number, Extract<ChangeSet, { kind: "set" }>>();
  const undone = new Set<number>();
  let redoable: number[] = [];
  for (const set of sets) {
    if (set.kind === "set") {
      known.set(set.number, set);
      redoable = [];
    } else if (!known.has(set.target) || undone.has(set.target) !== (set.kind === "redo")) {
      problems.push(withoutEffect(set.row, set.kind, set.target));
    } else if (set.kind === "undo") {
      undone.add(set.target);
      redoable.push(set.target);
    } else {
      undone.delete(set.target);
      redoable = redoable.filter((number) => number !== set.target);
    }
  }
  const last = redoable.at(-1);
  return {
    standing: [...known.values()].filter((set) => !undone.has(set.number)),
    redoable: last === undefined ? null : (known.get(last) ?? null),
  };
}

function enter(
  decisions: Map<string, Map<ColumnKey, Decision>>,
  record: SetRecord,
  { who, when }: ChangeSet,
  problems: Problem[],
  latestYear: number,
): void {
  const reading = readDecision(record, record.row, latestYear);
  if (!reading.ok) return void problems.push(...reading.problems);
  const { column, value } = reading.decided;
  const columns = decisions.get(record.lateral) ?? new Map<ColumnKey, Decision>();
  decisions.set(record.lateral, columns);
  if (value === null) columns.delete(column);
  else columns.set(column, { value, written: record.value, reason: record.reason, who, when, id: record.id });
}

const withoutEffect = (row: number, kind: "undo" | "redo", target: number): Problem => ({
  severity: "noted",
  file: DECISIONS_FILE,
  row,
  column: "target",
  found: `${kind} of change set ${target}`,
  expected: kind === "undo" ? "a change set that stands" : "a change set that was undone",
  remedy: "It has no effect. Lines may be missing from the file.",
});
