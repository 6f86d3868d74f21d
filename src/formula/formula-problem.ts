/** Why a formula is refused: where, what stands there, what could stand there, what to write. Offsets count UTF-16 units from 0. */
export interface FormulaProblem {
  readonly at: number;
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;
}

/** Carries a problem out of the reading functions; it never leaves this folder. */
export class FormulaFault extends Error {
  readonly problem: FormulaProblem;

  constructor(at: number, found: string, expected: string, remedy: string) {
    super(found);
    this.problem = { at, found, expected, remedy };
  }
}

/**
 * The line of the formula, a caret under the character, and the problem in words:
 *
 *     host_length + 3
 *                   ^
 *     Character 15: found 3, a plain number; expected a length. Write 3 ft or 3 m.
 */
export function describeFormulaProblem(text: string, problem: FormulaProblem): string {
  const start = text.lastIndexOf("\n", problem.at - 1) + 1;
  const end = text.indexOf("\n", problem.at);
  const line = text.slice(start, end === -1 ? text.length : end);
  const before = text.slice(start, problem.at).replace(/[^\t]/g, " ");
  const row = text.slice(0, start).split("\n").length;
  const place = `${row > 1 ? `Line ${row}, character` : "Character"} ${problem.at - start + 1}`;
  const words = `${place}: found ${problem.found}; expected ${problem.expected}. ${problem.remedy}`.trimEnd();
  return `${line}\n${before}^\n${words}`;
}

/** Text of the user inside a message, kept short. */
export function quoted(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 40)}…` : text);
}
