import { readInspections } from "../intake/inspection-file.ts";
import { type InspectionsAhead, placeInspections } from "../intake/inspections-ahead.ts";
import { type LateralIndex, readLaterals } from "../intake/lateral-file.ts";
import { type InspectionPart, mergeInspections } from "../intake/merge-inspections.ts";
import { countGraded, noGrades, otherHeadings } from "../intake/no-grades.ts";
import { readObservations } from "../intake/observation-file.ts";
import { basisForSettings } from "../program/basis-for-settings.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import {
  inspectionFiles,
  lateralFile,
  observationFile,
  placedFaults,
  readSettings,
} from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { yearOf } from "../quantity/calendar.ts";
import type { Problem } from "../quantity/problem.ts";
import type { Basis } from "../reference/basis.ts";
import { observationKinds } from "../reference/observation-kinds.ts";
import { valueWords } from "../reference/value-words.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { Progress } from "../season/plan-sheet.ts";
import type { RowTally } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { type CityTexts, findTexts } from "./city-text.ts";
import { lateSurveys } from "./late-surveys.ts";
import type { PlanThread } from "./plan-thread.ts";
import { prepareBasis } from "./prepare-basis.ts";

/** What a program folder holds beside its decisions. */
export interface GatheredCity {
  readonly ok: true;
  readonly settings: Settings;
  /** From the settings, the recipe compiled. */
  readonly basis: PreparedBasis;
  readonly tables: Omit<ProgramTables, "decisions">;
  /** Rows of the laterals by id. */
  readonly index: LateralIndex;
  /** What was found in the laterals' file, and in the others. */
  readonly problems: { readonly laterals: readonly Problem[]; readonly surveys: readonly Problem[] };
  readonly tallies: readonly RowTally[];
}

/** Reads the settings of a program folder and the city's files; the parameters are those of gatherProgram. */
export async function gatherCity(
  folder: string,
  progress: Progress = () => {},
  second?: PlanThread,
): Promise<GatheredCity | { readonly ok: false; readonly problems: readonly Problem[] }> {
  const reading = await readSettings(folder);
  if (!reading.ok) return reading;
  const { settings } = reading;
  const file = lateralFile(settings);
  const seenFile = observationFile(settings);
  const texts = await findTexts(folder, [file, ...inspectionFiles(settings), seenFile], progress);
  // What the other thread cannot read is read here, where its failure is said.
  const bare = basisForSettings(settings);
  const ahead = readAhead(folder, settings, bare, texts, second).catch(() => []);
  const prepared = await prepareBasis(bare);
  if (!prepared.ok) return { ok: false, problems: await placedFaults(folder, prepared.faults) };
  const ownWords = citysWords(settings);
  const latestYear = yearOf(prepared.basis.program.asOf);

  const laterals = await readLaterals(texts.textOf(file), file, {
    words: valueWords,
    ownWords,
    districts: settings.district_aliases ?? {},
    latestYear,
    units: settings.units,
    bytes: texts.sizeOf(file),
  });
  if (laterals.table.rows === 0)
    return { ok: false, problems: [...laterals.problems.filter(isSaidAtOnce), nothingToPlan(file.file)] };
  const parts: InspectionPart[] = [];
  const readBefore = await ahead;
  for (const [i, surveyFile] of inspectionFiles(settings).entries()) {
    const before = readBefore[i];
    if (before !== undefined) texts.isReadElsewhere(surveyFile);
    const read =
      (before === undefined ? null : placeInspections(before, surveyFile.file, laterals.index)) ??
      (await readInspections(
        texts.textOf(surveyFile),
        surveyFile,
        { words: valueWords, ownWords, bytes: texts.sizeOf(surveyFile) },
        laterals.index,
      ));
    parts.push({ file: surveyFile.file, read });
  }
  const surveys = mergeInspections(parts, laterals.table.rows);
  const seen =
    seenFile === null
      ? null
      : await readObservations(
          texts.textOf(seenFile),
          seenFile,
          {
            words: valueWords,
            ownWords,
            kinds: observationKinds,
            cityKinds: settings.observations?.kinds ?? {},
            bytes: texts.sizeOf(seenFile),
          },
          laterals.index,
          surveys,
        );
  const ungraded = inspectionFiles(settings).flatMap((surveyFile, i) => {
    const own = parts[i]!.read.table;
    return noGrades(surveyFile, countGraded(surveyFile, own, surveys.table, seen), otherHeadings(own)) ?? [];
  });
  const late = inspectionFiles(settings).flatMap(({ file: name, columns }, i) => {
    const heading = columns.inspected_on?.heading ?? "";
    return lateSurveys(name, parts[i]!.read.table, heading, prepared.basis.program.asOf) ?? [];
  });
  return {
    ok: true,
    settings,
    basis: prepared.basis,
    tables: {
      laterals: laterals.table,
      inspections: surveys.table,
      firstInspection: surveys.first,
      ...(seen === null ? {} : { observations: { table: seen.table, first: seen.first } }),
    },
    index: laterals.index,
    problems: {
      laterals: laterals.problems,
      surveys: [...ungraded, ...late, ...surveys.problems, ...(seen?.problems ?? [])],
    },
    tallies: [
      { file: file.file, ...laterals.tally },
      ...surveys.tallies,
      ...(seen === null || seenFile === null ? [] : [{ file: seenFile.file, ...seen.tally }]),
    ],
  };
}

/** The inspection files of a big city, read by the second thread while this one reads the laterals; none where it is not worth it. */
async function readAhead(
  folder: string,
  settings: Settings,
  basis: Basis,
  texts: CityTexts,
  second: PlanThread | undefined,
): Promise<readonly InspectionsAhead[]> {
  second?.startFor(texts.sizeOf(lateralFile(settings)));
  if (second?.isWorking !== true) return [];
  const done = await second.doneBeside({
    kind: "read inspections",
    folder,
    files: inspectionFiles(settings),
    ownWords: citysWords(settings),
    basis,
  });
  return done?.parts ?? [];
}

/** The settings' words by our word, turned into our word by the city's. */
export function citysWords(settings: Settings): Readonly<Record<string, Readonly<Record<string, string>>>> {
  return Object.fromEntries(
    Object.entries(settings.words ?? {}).map(([column, byOurs]) => [
      column,
      Object.fromEntries(
        Object.entries(byOurs).flatMap(([ours, citys]) => citys.map((word) => [word, ours] as const)),
      ),
    ]),
  );
}

const nothingToPlan = (file: string): Problem => ({
  severity: "rejected",
  file,
  row: null,
  column: null,
  found: "no lateral",
  expected: "at least one row with a lateral below the headings",
  remedy: "Put the city's file in its place.",
});

/**
 * What nobody should have to look for: a heading that is not there or a file in another form, which touches every row, and a decision
 * that somebody made and that is not counted.
 */
export const isSaidAtOnce = ({ severity, file, row }: Problem): boolean =>
  severity === "rejected" && (row === null || file === DECISIONS_FILE);
