import * as z from "zod";
import { crewKinds, seasonReasons, treatmentKinds } from "../columns/plan-columns.ts";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { hashOf } from "./content-hash.ts";
import type { ProgramLock } from "./lock.ts";
import {
  nameProblems,
  readSaved,
  type SavedKind,
  type SavedReading,
  savedNames,
  saveNew,
} from "./saved-files.ts";
import { savedJson } from "./saved-json.ts";

/** Folder of the saved seasons inside a program folder. */
export const RUNS = "runs";
/** Folder of the saved curves. */
export const CURVES = "curves";

const amount = z.number().nonnegative();
const treatment = z.string().refine((name) => (treatmentKinds as readonly string[]).includes(name), {
  message: "a treatment of this program",
});

const savedStanding = z.enum(["done", "refused", "held back", "begun"]);

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
  /** As the budget of `season` counted them, without what was spent already. */
  works: amount,
  mobilization: amount,
  chosen: z.array(z.strictObject({ lateral: z.string(), treatment, cost: amount })),
  /**
   * What had been spent on each lateral done, refused, held back or begun when it was selected, in cents: the whole, whatever the budget counts of it.
   * Of one that had begun also whose visit was over. A file of an earlier version has none.
   */
  so_far: z
    .array(
      z.strictObject({
        lateral: z.string(),
        standing: savedStanding,
        spent: amount,
        visited: z.array(z.enum(crewKinds)).optional(),
      }),
    )
    .optional(),
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

export type SeasonRunReading = SavedReading<SeasonRun>;

/** A mark of who is in, and by which treatment: another selection has another, the same selected again has the same. */
export const chosenMark = ({ chosen }: Pick<SeasonRun, "chosen">): string =>
  hashOf(JSON.stringify(chosen.map(({ lateral, treatment }) => [lateral, treatment]).sort()));

const seasons: SavedKind<SeasonRun> = {
  folder: RUNS,
  what: "a saved season",
  how: "wyeplan season --save NAME",
  parse: readSeasonRunText,
};

export const seasonRunNames = (folder: string): Promise<readonly string[]> => savedNames(folder, seasons);

export const readSeasonRun = (folder: string, name: string): Promise<SeasonRunReading> =>
  readSaved(folder, seasons, name);

/** A season from the text of its file, without a disk. */
export function readSeasonRunText(text: string, file: string): SeasonRunReading {
  const saved = savedJson(text, seasonRunSchema, "a season");
  if (saved.ok) return { ok: true, run: saved.value };
  const remedy = "Delete it and save the season again.";
  return { ok: false, problems: [fileProblem(file, saved.found, saved.expected, remedy)] };
}

const curveNames = (folder: string): Promise<readonly string[]> => savedNames(folder, { folder: CURVES });

/** What keeps a season from being saved under a name: to be asked before a long search. */
export const seasonNameProblems = async (folder: string, name: string): Promise<readonly Problem[]> =>
  nameProblems(folder, seasons, name, await curveNames(folder));

/** Saves a season under a new name, which no curve has either; what stands is never overwritten. */
export const saveSeasonRun = async (
  lock: ProgramLock,
  name: string,
  run: SeasonRun,
): Promise<readonly Problem[]> =>
  saveNew(lock, seasons, name, `${JSON.stringify(run, null, 1)}\n`, await curveNames(lock.folder));
