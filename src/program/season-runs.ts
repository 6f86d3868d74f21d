import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { crewKinds, seasonReasons, treatmentKinds } from "../columns/plan-columns.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { writeAtomically } from "./atomic-write.ts";
import type { ProgramLock } from "./lock.ts";
import { MOST_BYTES, namesInside, ownFolder, readInside } from "./program-files.ts";
import { isSnapshotName } from "./snapshots.ts";

/** Folder of the saved seasons inside a program folder. */
export const RUNS = "runs";

const amount = z.number().nonnegative();
const treatment = z.string().refine((name) => (treatmentKinds as readonly string[]).includes(name), {
  message: "a treatment of this program",
});

/** A selection as saved: what was asked, what came out, how far it is proven, and who is in. */
export const seasonRunSchema = z.strictObject({
  schema: z.literal(1),
  saved: z.strictObject({ when: z.string(), who: z.string() }),
  as_of: z.string(),
  /** The season of program.json, as it stood. */
  season: z.unknown(),
  /** "packed": it fits its crew-days as packed; its gap is to a bound that knows no packing. */
  ended: z.enum(["proven", "packed", "node limit", "stopped"]),
  worth: z.number(),
  bound: z.number(),
  gap: z.number(),
  works: amount,
  mobilization: amount,
  chosen: z.array(z.strictObject({ lateral: z.string(), treatment, cost: amount })),
  /** SHA-256 of all it was selected from; a file of an earlier version has none, and nobody can say whether it still holds. */
  inputs: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .optional(),
  /** Ids of all laterals by why they are in or out. */
  reasons: z.partialRecord(z.enum(seasonReasons), z.array(z.string())).optional(),
  /** Worth of one more cent, and of one more crew-day, at the season's optimum. */
  prices: z
    .strictObject({ money: z.number(), crew_days: z.partialRecord(z.enum(crewKinds), z.number()) })
    .optional(),
});
export type SeasonRun = z.infer<typeof seasonRunSchema>;

export type SeasonRunReading =
  | { readonly ok: true; readonly run: SeasonRun }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const fileOf = (name: string): string => `${RUNS}/${name}.json`;

export const seasonRunNames = async (folder: string): Promise<readonly string[]> =>
  (await namesInside(folder, RUNS))
    .filter((file) => file.endsWith(".json"))
    .map((file) => file.slice(0, -".json".length))
    .sort();

export async function readSeasonRun(folder: string, name: string): Promise<SeasonRunReading> {
  const refused = (found: string, expected: string, remedy: string) =>
    ({ ok: false, problems: [fileProblem(fileOf(name), found, expected, remedy)] }) as const;
  const names = await seasonRunNames(folder);
  if (!isSnapshotName(name) || !names.includes(name))
    return refused(
      name,
      "the name of a saved season",
      names.length === 0
        ? "None is saved yet: wyeplan season --save NAME."
        : `Saved are: ${names.join(", ")}.`,
    );
  const read = await readInside(folder, fileOf(name), MOST_BYTES.saved);
  if (!read.ok) return { ok: false, problems: [read.problem] };
  return readSeasonRunText(read.bytes.toString("utf8"), fileOf(name));
}

/** The same from the text of the file, without a disk. */
export function readSeasonRunText(text: string, file: string): SeasonRunReading {
  const refused = (found: string, expected: string): SeasonRunReading => ({
    ok: false,
    problems: [fileProblem(file, found, expected, "Delete it and save the season again.")],
  });
  try {
    const checked = seasonRunSchema.safeParse(JSON.parse(text));
    if (checked.success) return { ok: true, run: checked.data };
    const [issue] = checked.error.issues;
    return refused(`${issue?.path.join(".") ?? ""}: ${issue?.message ?? ""}`, "a season of this version");
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return refused(error.message, "a season in JSON");
  }
}

/** Saves a season under a new name; what stands is never overwritten. */
export async function saveSeasonRun(
  lock: ProgramLock,
  name: string,
  run: SeasonRun,
): Promise<readonly Problem[]> {
  const refused = (found: string, expected: string, remedy: string) => [
    fileProblem(fileOf(name), found, expected, remedy),
  ];
  if (!isSnapshotName(name))
    return refused(name, 'letters, digits, spaces, "-", "_" or ".", at most 80', "Choose another name.");
  const names = await seasonRunNames(lock.folder);
  if (names.some((other) => other.toLowerCase() === name.toLowerCase()))
    return refused(
      "a season of that name",
      "a new name",
      "A saved season is never overwritten: choose another name.",
    );
  const own = await ownFolder(lock.folder, RUNS);
  if (!own.ok) return [own.problem];
  await mkdir(own.path, { recursive: true });
  await writeAtomically(join(own.path, `${name}.json`), `${JSON.stringify(run, null, 1)}\n`);
  return [];
}
