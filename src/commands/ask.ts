import { createInterface } from "node:readline/promises";
import { shownText } from "./shown-text.ts";
import { wrapped } from "./wrapped.ts";

/** Asks a person to choose; the answer is the place of the choice in the list, or null from one who goes away. */
export type Ask = (question: string, choices: readonly string[]) => Promise<number | null>;

/** Asking on this terminal, or null where nobody sits at one. */
export function askAtTerminal(): Ask | null {
  if (!process.stdin.isTTY || !process.stderr.isTTY) return null;
  return async (question, choices) => {
    const reader = createInterface({ input: process.stdin, output: process.stderr });
    try {
      for (;;) {
        const asked = wrapped(question, "", "", process.stderr.columns);
        const list = choices.map((choice, i) => `  ${i + 1}  ${choice}`).join("\n");
        const answer = await reader.question(shownText(`\n${asked}\n${list}\nNumber: `));
        const chosen = Number(answer.trim());
        if (Number.isInteger(chosen) && chosen >= 1 && chosen <= choices.length) return chosen - 1;
        process.stderr.write(`A whole number from 1 to ${choices.length}; Ctrl-C stops.\n`);
      }
    } catch (error) {
      // Ctrl-C, or Ctrl-D at the beginning of the line.
      if (error instanceof Error && error.name === "AbortError") return null;
      throw error;
    } finally {
      reader.close();
    }
  };
}
