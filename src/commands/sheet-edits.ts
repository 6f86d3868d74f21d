import type { Column } from "../columns/column.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { describeReason } from "../plan/reason.ts";
import { type Appended, appendChangeSet, type Change } from "../program/decision-log.ts";
import { AS_GIVEN, readDecision } from "../program/decision-value.ts";
import type { ProgramLock } from "../program/lock.ts";
import { yearOf } from "../quantity/calendar.ts";
import { isQuantity } from "../quantity/measure.ts";
import { readNumber } from "../quantity/quantity-text.ts";
import { type NumberStyle, showCount, showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import type { Answer, Asked, OutsideEffect } from "../screen/session.ts";
import type { ValueCheck } from "../screen/sheet-view.ts";
import { lateralAt } from "../season/lateral-at.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { replanRows } from "../season/replan-rows.ts";
import { textAt } from "../sheet/table.ts";
import { describeMove } from "./change-decisions.ts";
import { writeRecipe } from "./change-recipe.ts";
import { withOwnColumn } from "./sheet-formulas.ts";

/** Who decides in the sheet, and with what right. */
export interface SheetWriter {
  readonly lock: ProgramLock;
  readonly who: string;
  readonly now: () => string;
}

/** The program as it is after what was asked, and the answer to who asked. */
export interface Performed {
  readonly program: PlannedProgram;
  /** Rows that changed. */
  readonly rows: readonly number[];
  readonly answer: Answer;
}

/** What is asked of the log of decisions and of the sheet's columns. */
export type ChangeEffect = Exclude<
  OutsideEffect,
  { kind: "try recipe" } | { kind: "accept recipe" } | { kind: "drop recipe" } | { kind: "look again" }
>;

/** Does what the sheet asks: writes it down, syncs it, and plans the rows it touches again. */
export async function performInSheet(
  effect: ChangeEffect,
  program: PlannedProgram,
  writer: SheetWriter | null,
  rowOf: (id: string) => number | null,
): Promise<Performed> {
  if (effect.kind === "add column") {
    const added = withOwnColumn(program, effect.name, effect.text);
    const notice = await keptColumn(effect, writer);
    return { program: added, rows: [], answer: { ...done, notice, newColumn: added.columns.length - 1 } };
  }
  if (writer === null) throw new RangeError(`performInSheet: nobody may ${effect.kind} here`);
  const change = changeOf(effect, program);
  const stamp = { when: writer.now(), who: writer.who };
  const appended = await appendChangeSet(writer.lock, change, stamp, yearOf(program.basis.program.asOf));
  if (!appended.ok) {
    const { because } = appended;
    return {
      program,
      rows: [],
      answer: { ...done, notice: because[0] ?? "Nothing was changed.", refused: because },
    };
  }
  const touched = recordsOf(appended);
  // A decision may be on a lateral that is no longer in the city's file.
  const rows = [...new Set(touched.map(({ lateral }) => lateral))].flatMap((id) => rowOf(id) ?? []);
  const replanned = replanRows(program, appended.after.decisions, rows);
  const [first] = touched;
  const notice =
    first === undefined || touched.length > 1
      ? `${showCount(touched.length)} values ${effect.kind === "decide" ? "decided" : effect.kind === "undo" ? "undone" : "decided again"}; change set ${appended.written.number}.`
      : describeMove(appended, first) + objection(replanned, rows[0], first.column);
  return { program: replanned, rows, answer: { ...done, notice, row: rows[0] ?? null } };
}

/** Writes the new column into program.json; what stands in the way leaves it in the sheet only, and is said. */
async function keptColumn(
  { name, text }: Extract<OutsideEffect, { kind: "add column" }>,
  writer: SheetWriter | null,
): Promise<string> {
  const because =
    writer === null
      ? "Nothing may be written here."
      : await writeRecipe(writer.lock, ["recipe", "columns", name], text);
  return because === null
    ? `${name} is in the sheet and in program.json (recipe.columns).`
    : `${name} is in the sheet until it is closed. ${because}`;
}

const done = { kind: "answer", refused: [], row: null, newColumn: null } as const;

function changeOf(effect: Exclude<ChangeEffect, { kind: "add column" }>, program: PlannedProgram): Change {
  if (effect.kind !== "decide") return { kind: effect.kind };
  const { laterals, columns, basis } = program;
  return {
    kind: "set",
    decisions: effect.decisions.map(({ row, column, value }: Asked) => ({
      lateral: textAt(laterals, "lateral", row),
      column: columns[column]!.key,
      value: withUnit(value, columns[column]!, basis.program),
      reason: effect.reason,
    })),
  };
}

/** A number typed without a unit is in the unit its column is shown in; the log keeps it with that unit. */
export function withUnit(typed: string, { measure }: Column, style: NumberStyle): string {
  const text = typed.trim();
  if (!isQuantity(measure) || text === AS_GIVEN) return text;
  const bare = text.replaceAll(",", "");
  return readNumber(bare, ".").ok ? `${bare} ${unitLabel(measure, style)}` : text;
}

/** What a typed value would be taken as, or why it is not taken. */
export function checkValue(
  column: Column,
  typed: string,
  style: NumberStyle & { readonly asOf: Day },
): ValueCheck {
  const value = withUnit(typed, column, style);
  const reading = readDecision(
    { lateral: "any", column: column.key, value, reason: "any" },
    null,
    yearOf(style.asOf),
  );
  if (!reading.ok) {
    const [problem] = reading.problems;
    return { ok: false, words: `expected ${problem?.expected}. ${problem?.remedy}` };
  }
  const { value: stored } = reading.decided;
  if (stored === null) return { ok: true, shows: AS_GIVEN };
  return {
    ok: true,
    shows: typeof stored === "string" ? stored : showQuantity(stored, column.measure, style),
  };
}

/** The records that a change set is about: its own, or those of the set it undoes or redoes. */
function recordsOf({ written, before }: Extract<Appended, { ok: true }>) {
  switch (written.kind) {
    case "set":
      return written.records;
    case "undo":
      return before.undoable?.records ?? [];
    case "redo":
      return before.redoable?.records ?? [];
    default:
      return written satisfies never;
  }
}

/** What the plan has against a treatment that was decided; "" when it follows the decision. */
function objection({ tables, basis }: PlannedProgram, row: number | undefined, column: string): string {
  if (row === undefined || column !== "treatment") return "";
  const { choice, verdicts } = planLateral(lateralAt(tables, row), basis);
  const words = choice.reasons.flatMap((reason) => {
    if (reason.code !== "decision not allowed") return [];
    const against = verdicts.all.find(({ treatment }) => treatment === reason.treatment)?.reasons ?? [];
    return [reason, ...against].map((each) => describeReason(each, basis.program));
  });
  return words.length === 0 ? "" : ` The plan does not follow it: ${words.join("; ")}.`;
}
