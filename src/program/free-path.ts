import { readFile, stat } from "node:fs/promises";
import { isMissing } from "./program-files.ts";

export interface FreePath {
  readonly path: string;
  /** Whether this very content is there already. */
  readonly stands: boolean;
}

/**
 * Where content may go without writing over what somebody worked on since: the name itself, or the first of `name-2`,
 * `name-3`, … that is free or has this very content.
 *
 * @param extension with its point
 */
export async function freePath(name: string, extension: string, content: Buffer): Promise<FreePath> {
  for (let number = 1; ; number++) {
    const path = `${name}${number === 1 ? "" : `-${number}`}${extension}`;
    const there = await whatStands(path, content);
    if (there !== "another") return { path, stands: there === "the same" };
  }
}

/** What is at a path, beside content that would go there. */
export async function whatStands(path: string, content: Buffer): Promise<"nothing" | "the same" | "another"> {
  try {
    const found = await stat(path);
    if (!found.isFile() || found.size !== content.length) return "another";
    return (await readFile(path)).equals(content) ? "the same" : "another";
  } catch (error) {
    if (isMissing(error)) return "nothing";
    throw error;
  }
}
