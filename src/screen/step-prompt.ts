import { onRow, rearranged } from "./arrange.ts";
import { type Choice, choices, completionsFor, valueMeant } from "./choices.ts";
import { movedInText, type Prompt, promptFor, rubbedOut, typed } from "./prompt.ts";
import type { Action, Asked, Effect, PromptAction, Session } from "./session.ts";
import type { SheetView, Size } from "./sheet-view.ts";
import { askReason, extended } from "./step-edit.ts";
import { lookFor } from "./step-find.ts";

export interface PromptStepped {
  readonly session: Session;
  readonly effects: readonly Effect[];
  /** What somebody chose to be done, now that nothing is typed any more. */
  readonly chosen: Action | null;
}

const plainly = (session: Session): PromptStepped => ({ session, effects: [], chosen: null });

/** What a key does while something is being typed. Without a prompt it does nothing. */
export function promptStep(
  session: Session,
  action: PromptAction,
  size: Size,
  sheet: SheetView,
): PromptStepped {
  const { prompt } = session;
  if (prompt === null) return plainly(session);
  switch (action.kind) {
    case "type":
      return plainly(retyped(session, typed(prompt, action.text), sheet));
    case "rub out":
      return plainly(retyped(session, rubbedOut(prompt, action.which), sheet));
    case "move in text":
      return plainly({ ...session, prompt: movedInText(prompt, action.to) });
    case "choose":
      return plainly(otherChoice(session, prompt, action.by, sheet));
    case "complete":
      return plainly(completed(session, prompt, sheet));
    case "give up":
      return plainly(givenUp(session, prompt));
    case "accept":
      return accepted(session, prompt, size, sheet);
    default:
      return action satisfies never;
  }
}

function retyped(session: Session, prompt: Prompt, sheet: SheetView): Session {
  const next = { ...session, prompt };
  if (prompt.purpose.kind !== "find" || prompt.text === session.prompt?.text) return next;
  // What is found follows what is typed, from where the looking began.
  return lookFor({ ...next, row: prompt.purpose.row, column: prompt.purpose.column }, 1, true, sheet);
}

function otherChoice(session: Session, prompt: Prompt, by: -1 | 1, sheet: SheetView): Session {
  if (prompt.purpose.kind === "find") return lookFor(session, by, false, sheet);
  const count = choices(session, sheet).length || completionsFor(session, sheet).length;
  const choice = Math.max(0, Math.min(prompt.choice + by, count - 1));
  return { ...session, prompt: { ...prompt, choice } };
}

/** The unfinished word becomes the completion chosen; a value becomes the whole word. */
function completed(session: Session, prompt: Prompt, sheet: SheetView): Session {
  const found = completionsFor(session, sheet)[prompt.choice];
  if (found === undefined) return session;
  if (prompt.purpose.kind === "value")
    return {
      ...session,
      prompt: { ...prompt, text: found.name, at: found.name.length, choice: 0, refusal: null },
    };
  const before = prompt.text.slice(0, prompt.at);
  // Inside quotes the completion replaces what was begun of the text, elsewhere what was begun of the name.
  const begun = /["']$/.test(found.name)
    ? (/[^"']*$/.exec(before)?.[0] ?? "")
    : (/[A-Za-z_][A-Za-z0-9_]*$/.exec(before)?.[0] ?? "");
  const start = prompt.at - begun.length;
  const text = prompt.text.slice(0, start) + found.name + prompt.text.slice(prompt.at);
  return { ...session, prompt: { ...prompt, text, at: start + found.name.length, choice: 0, refusal: null } };
}

function givenUp(session: Session, { purpose }: Prompt): Session {
  const closed = { ...session, prompt: null, pending: stillPending(session) };
  if (purpose.kind === "find") return { ...closed, row: purpose.row, column: purpose.column };
  const isEdit = purpose.kind === "reason" || purpose.kind === "value" || purpose.kind === "copies";
  return isEdit ? { ...closed, notice: "Nothing was changed." } : closed;
}

function accepted(session: Session, prompt: Prompt, _size: Size, sheet: SheetView): PromptStepped {
  const { purpose } = prompt;
  const text = (prompt.text.trim() === "" ? prompt.offered : prompt.text).trim();
  const done: Session = { ...session, prompt: null, pending: stillPending(session) };
  const refuse = (refusal: string) => plainly({ ...session, prompt: { ...prompt, refusal } });
  switch (purpose.kind) {
    case "find":
      return plainly(done);
    case "go to id": {
      const row = sheet.rowOf(text);
      if (row === null) return refuse(`No lateral has the id ${JSON.stringify(text)}.`);
      const there = onRow(done, row);
      return there === null
        ? refuse(`${text} is not among the laterals shown; a shows all.`)
        : plainly(there);
    }
    case "only": {
      if (text === "")
        return plainly(session.only === null ? done : rearranged({ ...done, only: null }, sheet, session));
      const check = sheet.formula.check(text, "filter");
      return check.ok
        ? plainly(rearranged({ ...done, only: { kind: "formula", text } }, sheet, session))
        : plainly({ ...session, prompt: { ...prompt, text: prompt.text, refusal: null } });
    }
    case "value": {
      if (text === "") return refuse("Type a value, or press Esc.");
      const value = valueMeant(prompt, purpose.column, sheet);
      const check = sheet.check(purpose.column, value);
      if (!check.ok) return refuse(check.words);
      const asked = purpose.rows.map((row): Asked => ({ row, column: purpose.column, value }));
      return plainly(askReason(done, asked, sheet));
    }
    case "copies": {
      const count = Number(text);
      if (!Number.isInteger(count) || count < 1) return refuse("Type a whole number of laterals.");
      return plainly(extended(done, purpose, count, sheet));
    }
    case "reason": {
      if (text === "") return refuse("Give a reason: somebody will ask.");
      const effect: Effect = { kind: "decide", decisions: purpose.decisions, reason: text };
      return { session: { ...done, lastReason: text }, effects: [effect], chosen: null };
    }
    case "column name": {
      const problem = sheet.formula.nameProblem(text);
      return problem === null
        ? plainly({ ...done, prompt: promptFor({ kind: "column formula", name: text }) })
        : refuse(problem);
    }
    case "column formula": {
      if (text === "" || !sheet.formula.check(text, "column").ok) return plainly(session);
      return { session: done, effects: [{ kind: "add column", name: purpose.name, text }], chosen: null };
    }
    case "recipe":
      return {
        session: { ...done, paneAt: 0, paneTop: 0 },
        effects: [{ kind: "try recipe", item: purpose.item, text: prompt.text.trim() }],
        chosen: null,
      };
    case "recipe reason": {
      if (text === "") return refuse("Give a reason: somebody will ask.");
      return {
        // Of a big program the run is written for some seconds, in which no key is read.
        session: { ...done, lastReason: text, paneAt: 0, paneTop: 0, notice: "The run before is saved …" },
        effects: [{ kind: "accept recipe", reason: text }],
        chosen: null,
      };
    }
    case "actions":
    case "columns": {
      const choice = choices(session, sheet)[prompt.choice];
      return choice === undefined ? plainly(session) : taken(session, prompt, choice);
    }
    default:
      return purpose satisfies never;
  }
}

function taken(session: Session, prompt: Prompt, { does }: Choice): PromptStepped {
  if (does.kind === "act") return { session: { ...session, prompt: null }, effects: [], chosen: does.action };
  const { columns } = session;
  const place = columns.indexOf(does.column);
  if (place === 0) return plainly({ ...session, prompt: { ...prompt, refusal: "The id stays in view." } });
  const next = place < 0 ? [...columns, does.column] : columns.filter((column) => column !== does.column);
  return plainly({ ...session, columns: next, column: Math.min(session.column, next.length - 1) });
}

/** Looking ends with what was typed; rows that are being arranged go on being arranged. */
const stillPending = ({ pending }: Session): Session["pending"] =>
  pending?.kind === "find" ? null : pending;
