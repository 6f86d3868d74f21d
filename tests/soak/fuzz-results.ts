import { shownText } from "../../src/commands/shown-text.ts";
import { describeProblem, type Problem } from "../../src/quantity/problem.ts";

/** What became of an input. Anything thrown is a crash; a `fault` is a broken promise. */
export type Outcome = "taken" | "refused" | { readonly fault: string };

export interface FuzzTarget {
  readonly name: string;
  /** How many inputs of a round are its own. */
  readonly weight: number;
  readonly seeds: readonly Uint8Array[];
  /** Words that mean something to it. */
  readonly words: readonly string[];
  /** Of seeds that are JSON: how many bytes stand before it. Every other input is then damaged as values, not as bytes. */
  readonly jsonFrom?: number;
  /** Bytes above the longest seed that the few long inputs may have, where it is fewer than for others. */
  readonly most?: number;
  readonly feed: (bytes: Uint8Array) => Outcome | Promise<Outcome>;
}

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
export const textOf = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

/** Every problem says what was expected and what to do, in words that can be printed. */
export function unsaid(problems: readonly Problem[]): string | null {
  for (const problem of problems) {
    if (problem.expected === "" || problem.remedy === "")
      return `without a reason: ${JSON.stringify(problem)}`;
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
    if (/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/.test(shownText(describeProblem(problem))))
      return "not shown";
  }
  return null;
}

/** A refusal with its reasons; without any it is a fault. */
export function refusedFor(problems: readonly Problem[]): Outcome {
  const fault = problems.length === 0 ? "refused without a problem" : unsaid(problems);
  return fault === null ? "refused" : { fault };
}
