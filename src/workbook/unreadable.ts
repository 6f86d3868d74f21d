import { fileProblem, type Problem } from "../quantity/problem.ts";

/** Why a returned workbook is not read, thrown from deep within it and caught by those who open one. */
export class Unreadable extends Error {
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;

  constructor(found: string, expected: string, remedy: string) {
    super(`${found}, expected ${expected}`);
    this.found = found;
    this.expected = expected;
    this.remedy = remedy;
  }
}

export type Opened<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** What a reader gives, or why it refuses the file. */
export function opened<T>(file: string, read: () => T): Opened<T> {
  try {
    return { ok: true, value: read() };
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    return { ok: false, problems: [fileProblem(file, error.found, error.expected, error.remedy)] };
  }
}
