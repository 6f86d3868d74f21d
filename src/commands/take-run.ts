import { basename, parse } from "node:path";
import { hashFile, hashOf } from "../program/content-hash.ts";
import type { ProgramLock } from "../program/lock.ts";
import { cityFilePath } from "../program/program-files.ts";
import { inspectionFiles, settingsText } from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { Run, Snapshot } from "../program/snapshot-schema.ts";
import { saveNumbered, saveSnapshot } from "../program/snapshots.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { scoreInSteps } from "../season/rank.ts";
import { type SavedTables, saveTables } from "../season/saved-tables.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import type { CommandIo } from "./command-io.ts";
import { saveUnderLock } from "./save-under-lock.ts";

/** A program folder and its plan as a run that can be saved and compared: what went in by content, and what came out. */
export async function takeRun(
  folder: string,
  { program, settings }: { readonly program: PlannedProgram; readonly settings: Settings },
): Promise<Run> {
  const inputs = [];
  for (const { file } of [settings.laterals, ...inspectionFiles(settings)])
    inputs.push({ file, sha256: await hashFile(await cityFilePath(folder, file)) });
  const text = settingsText(settings);
  const values = saveTables(program.tables);
  return {
    as_of: settings.as_of,
    inputs,
    settings: { sha256: hashOf(text), text },
    decisions: { sha256: hashOf(JSON.stringify(values.decisions)) },
    ranking: rankingOf(program),
    values: plainValues(values),
  };
}

/** The order of a plan, worst first. */
export function rankingOf({ laterals, order }: Pick<PlannedProgram, "laterals" | "order">): Run["ranking"] {
  const rows = [...order];
  return {
    laterals: rows.map((row) => textAt(laterals, "lateral", row)),
    scores: rows.map((row) => {
      const score = numberAt(laterals, "risk", row);
      return Number.isFinite(score) ? scoreInSteps(score) : null;
    }),
    treatments: rows.map((row) => textAt(laterals, "treatment", row)),
  };
}

/** What a command did between two runs that it saved without being asked. */
export interface Step {
  readonly moment: "before" | "after";
  readonly command: "add" | "remove";
  readonly file: string;
}

/** Saves a run under a number of its own, unless a snapshot holds it already. */
export const keepRun = (lock: ProgramLock, { moment, command, file }: Step, run: Run, io: CommandIo) =>
  saveNumbered(
    lock,
    `${moment}-${command}-${parse(file).name}`,
    run,
    savedBy(`wyeplan ${command}, ${moment} ${basename(file)}`, io),
  );

/** Saves a run under a name somebody chose; false when it could not be, and then it is said why. */
export async function saveRun(
  folder: string,
  name: string,
  loaded: { readonly program: PlannedProgram; readonly settings: Settings },
  io: CommandIo,
): Promise<boolean> {
  return saveUnderLock(folder, io, async (lock) => {
    const run = await takeRun(folder, loaded);
    const saved = await saveSnapshot(lock, name, run, savedBy(`plan --save ${name}`, io));
    if (!saved.ok) return saved;
    const said = saved.isNew
      ? `Saved as snapshot ${saved.name}.`
      : `Snapshot ${saved.name} is of this run already; nothing changed.`;
    return { ok: true, said };
  });
}

const savedBy = (by: string, io: CommandIo): Snapshot["saved"] => ({ when: io.now(), who: io.who, by });

/** The file's schema has lists that may be added to; the values are the same. */
const plainValues = (values: SavedTables): Run["values"] => values as Run["values"];
