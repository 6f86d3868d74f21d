import * as z from "zod";
import { crewKinds } from "../columns/plan-columns.ts";
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
import { CURVES, seasonRunNames } from "./season-runs.ts";
import { priceInCents } from "./unit-prices.ts";

const hash = z.string().regex(/^[0-9a-f]{64}$/);

/** More points than `--vary` ever makes are no curve of ours. */
const MOST_POINTS = 1000;

/** Days are counted from 1970: these are some five centuries. */
const LAST_DAY = 200_000;
const MOST_DAYS = 1_000_000;
/** Amounts nearer than this are one. */
const LEAST_STEP = 1e-5;
const isAmountOf = {
  budget: (amount: number) => priceInCents(amount) !== null,
  crews: (amount: number) => amount >= 0 && amount <= MOST_DAYS,
  season: (amount: number) => Number.isInteger(amount) && amount >= 0 && amount <= LAST_DAY,
} as const;

const pointSchema = z
  .strictObject({
    amount: z.number(),
    /** As solved, before neighbours are looked at; null where no season keeps the rules. */
    worth: z.number().nullable(),
    gap: z.number().min(0).nullable(),
    /** SHA-256 of what the point was solved from: that of the saved season of the same settings. */
    inputs: hash,
  })
  .refine(({ worth, gap }) => (worth === null) === (gap === null), {
    message: "a gap where there is a worth, and only there",
  });

const curveSchema = z
  .strictObject({
    schema: z.literal(1),
    /** SHA-256 of the rest of the file: a changed letter is found. */
    seal: hash,
    saved: z.strictObject({ when: z.string(), who: z.string() }),
    as_of: z.string(),
    currency: z.string(),
    /** The season of program.json, as it stood. */
    season: z.unknown(),
    objective: z.strictObject({ loss_avoided: z.number().min(0), infiltration_removed: z.number().min(0) }),
    vary: z.strictObject({
      of: z.enum(["budget", "crews", "season"]),
      crew: z.enum(crewKinds).nullable(),
    }),
    points: z.array(pointSchema).min(1).max(MOST_POINTS),
  })
  .refine(({ vary }) => (vary.of === "crews") === (vary.crew !== null), {
    message: "a kind of crew where crews are varied, and only there",
  })
  .refine(
    ({ points }) => points.every(({ amount }, i) => i === 0 || amount >= points[i - 1]!.amount + LEAST_STEP),
    {
      message: "amounts that rise",
    },
  )
  .refine(({ vary, points }) => points.every(({ amount }) => isAmountOf[vary.of](amount)), {
    message: "amounts of what is varied",
  })
  .refine(({ objective }) => objective.loss_avoided + objective.infiltration_removed > 0, {
    message: "an objective",
  });

export type SeasonCurve = z.infer<typeof curveSchema>;
/** A curve as it is, before it is saved. */
export type NewCurve = Omit<SeasonCurve, "schema" | "seal">;

const curves: SavedKind<SeasonCurve> = {
  folder: CURVES,
  what: "a saved curve",
  how: "wyeplan season --vary … --save NAME",
  parse: readCurveText,
};

export const curveNames = (folder: string): Promise<readonly string[]> => savedNames(folder, curves);

export const readSavedCurve = (folder: string, name: string): Promise<SavedReading<SeasonCurve>> =>
  readSaved(folder, curves, name);

/** A curve from the text of its file, without a disk. */
export function readCurveText(text: string, file: string): SavedReading<SeasonCurve> {
  const refused = (found: string, expected: string): SavedReading<SeasonCurve> => ({
    ok: false,
    problems: [
      fileProblem(file, found, expected, "Take it from a backup, or delete it and save the curve again."),
    ],
  });
  const written = savedJson(text, curveSchema, "a curve");
  if (!written.ok) return refused(written.found, written.expected);
  const { schema: _schema, seal, ...curve } = written.value;
  return sealOf(curve) === seal
    ? { ok: true, run: written.value }
    : refused("values that were changed after it was saved", "a curve as it was saved");
}

/** In one order of keys, whatever the order of the file. */
const sealOf = ({ saved, as_of, currency, season, objective, vary, points }: NewCurve): string =>
  hashOf(JSON.stringify([saved, as_of, currency, season, objective, vary, points]));

/** The file of a curve. */
export function curveText(curve: NewCurve): string {
  const { saved, as_of, currency, season, objective, vary, points } = curve;
  const written = { schema: 1, seal: sealOf(curve), saved, as_of, currency, season, objective, vary, points };
  return `${JSON.stringify(written, null, 1)}\n`;
}

/** What keeps a curve from being saved under a name: to be asked before a long search. */
export const curveNameProblems = async (folder: string, name: string): Promise<readonly Problem[]> =>
  nameProblems(folder, curves, name, await seasonRunNames(folder));

/** Saves a curve under a new name, which no season has either. */
export const saveCurve = async (
  lock: ProgramLock,
  name: string,
  curve: NewCurve,
): Promise<readonly Problem[]> =>
  saveNew(lock, curves, name, curveText(curve), await seasonRunNames(lock.folder));
