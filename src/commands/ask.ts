import { createInterface } from "node:readline/promises";

/** Asks a person to choose; the answer is the place of the choice in the list. */
export type Ask = (question: string, choices: readonly string[]) => Promise<number>;

/** Asking on this terminal, or null where nobody sits at one. */
export function askAtTerminal(): Ask | null {
  if (!process.stdin.isTTY || !process.stderr.isTTY) return null;
  return async (question, choices) => {
    const reader = createInterface({ input: process.stdin, output: process.stderr });
    try {
      for (;;) {
        const list = choices.map((choice, i) => `  ${i + 1}  ${choice}`).join("\n");
        const answer = await reader.question(`${question}\n${list}\nNumber: `);
        const chosen = Number(answer.trim());
        if (Number.isInteger(chosen) && chosen >= 1 && chosen <= choices.length) return chosen - 1;
      }
    } finally {
      reader.close();
    }
  };
}
