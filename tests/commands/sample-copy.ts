import { cpSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { CommandIo } from "../../src/commands/command-io.ts";
import type { DecidedProgram } from "../../src/commands/decide.ts";

export const SAMPLES = fileURLToPath(new URL("../../sample-programs/", import.meta.url));

/** The outside world of a command at a set moment, with what it said since the last `forget`. */
export function recorded() {
  const said = { out: "", err: "" };
  const forget = () => {
    said.out = said.err = "";
  };
  const io: CommandIo = {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    now: () => "2026-03-02T08:00:00.000Z",
    who: "a tester",
  };
  return { io, said, forget };
}

/** A program that has every lateral and objects to nothing, for who decides in one whose files need not be read. */
export const unread: DecidedProgram = { hasLateral: async () => true, objectionsTo: async () => [] };

// biome-ignore lint/suspicious/noExplicitAny: JSON as it is written, to be changed anywhere.
type Written = any;

/** A copy of a sample with its program.json changed. */
export function sampleCopy(sample: string, change: (settings: Written) => void = () => {}): string {
  const folder = mkdtempSync(join(tmpdir(), "sample-"));
  cpSync(join(SAMPLES, sample), folder, { recursive: true });
  const file = join(folder, "program.json");
  const settings = JSON.parse(readFileSync(file, "utf8"));
  change(settings);
  writeFileSync(file, JSON.stringify(settings, null, 2));
  return folder;
}

/** A copy of the demo's cost book: what is in each price is kept beside it, and the repository is no place for that. */
export function costBookCopy(): string {
  const copy = join(mkdtempSync(join(tmpdir(), "costs-")), "costs.json");
  cpSync(join(SAMPLES, "demo-cost-book.json"), copy);
  return copy;
}
