import { readInspections } from "../intake/inspection-file.ts";
import { type InspectionsAhead, placeInspections } from "../intake/inspections-ahead.ts";
import { readLaterals } from "../intake/lateral-file.ts";
import { type InspectionPart, mergeInspections } from "../intake/merge-inspections.ts";
import { countGraded, noGrades, otherHeadings } from "../intake/no-grades.ts";
import { readObservations } from "../intake/observation-file.ts";
import { basisForSettings } from "../program/basis-for-settings.ts";
import { readDecisionLog } from "../program/decision-log.ts";
import { foldDecisions } from "../program/decisions.ts";
import { DECISIONS_FILE } from "../program/program-files.ts";
import { seasonOf } from "../program/season-settings.ts";
import {
  inspectionFiles,
  lateralFile,
  observationFile,
  placedFaults,
  readSettings,
} from "../program/settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import { yearOf } from "../quantity/calendar.ts";
import { describeProblem, type Problem } from "../quantity/problem.ts";
import type { Basis } from "../reference/basis.ts";
import { observationKinds } from "../reference/observation-kinds.ts";
import { valueWords } from "../reference/value-words.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { Progress, Wanted } from "../season/plan-sheet.ts";
import type { PlanTables } from "../season/plan-tables.ts";
import type { PlannedProgram, RowTally } from "../season/planned-program.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import { dataOf } from "./basis-data.ts";
import { type CityTexts, findTexts } from "./city-text.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { finishInThreads } from "./finish-in-threads.ts";
import { fitInThreads } from "./fit-in-threads.ts";
import { lateSurveys } from "./late-surveys.ts";
import { planInThreads } from "./plan-in-threads.ts";
import { PlanThread } from "./plan-thread.ts";
import { prepareBasis } from "./prepare-basis.ts";
import { progressBar } from "./progress-bar.ts";
import { strangers } from "./season-names.ts";
import { valueProblems } from "./value-problems.ts";
import { fitted } from "./wrapped.ts";

/** A program folder as read: the city's files, the settings, the decisions; or why it cannot be. */
export type Gathered =
  | {
      readonly ok: true;
      readonly settings: Settings;
      /** From the settings, the recipe compiled. */
      readonly basis: PreparedBasis;
      readonly tables: ProgramTables;
      readonly problems: readonly Problem[];
      readonly tallies: readonly RowTally[];
    }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Reads everything a plan needs from a program folder; changes nothing in it.
 *
 * @param progress told the bytes of the city's files that are read, now and then
 * @param second a thread that may be started to read beside this one
 * @param readyFor told of the laterals when their file and those of the inspections are read
 */
export async function gatherProgram(
  folder: string,
  progress: Progress = () => {},
  second?: PlanThread,
  readyFor: (laterals: number, basis: PreparedBasis) => void = () => {},
): Promise<Gathered> {
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
  readyFor(laterals.table.rows, prepared.basis);
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
  const log = await readDecisionLog(folder);
  const { decisions, problems } = foldDecisions(log.sets, latestYear);
  const tables = {
    laterals: laterals.table,
    inspections: surveys.table,
    firstInspection: surveys.first,
    decisions,
    ...(seen === null ? {} : { observations: { table: seen.table, first: seen.first } }),
  };
  const { urgent, waiting } = valueProblems(tables, file.file, prepared.basis);
  const late = inspectionFiles(settings).flatMap(({ file: name, columns }, i) => {
    const heading = columns.inspected_on?.heading ?? "";
    return lateSurveys(name, parts[i]!.read.table, heading, prepared.basis.program.asOf) ?? [];
  });
  const rules = seasonOf(settings);
  const unknown = [...decisions.keys()].filter((id) => !laterals.index.has(id));
  return {
    ok: true,
    settings,
    basis: prepared.basis,
    tables,
    problems: [
      ...urgent,
      ...inRowOrder([...laterals.problems, ...waiting.filter((each) => each.file === file.file)]),
      ...ungraded,
      ...late,
      ...surveys.problems,
      ...(seen?.problems ?? []),
      ...log.problems,
      ...problems,
      ...waiting.filter((each) => each.file !== file.file),
      ...(rules === null ? [] : strangers({ laterals: laterals.table, basis: prepared.basis }, rules)),
      ...unknown.map(decidedForNobody),
    ],
    tallies: [
      { file: file.file, ...laterals.tally },
      ...surveys.tallies,
      ...(seen === null || seenFile === null ? [] : [{ file: seenFile.file, ...seen.tally }]),
    ],
  };
}

/** Problems of the file first, then by row; those of one row stay in the order they were met. */
const inRowOrder = (problems: readonly Problem[]): readonly Problem[] =>
  [...problems].sort((a, b) => (a.row ?? 0) - (b.row ?? 0));

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

export type Loaded =
  | { readonly ok: true; readonly program: PlannedProgram; readonly settings: Settings }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Reads a program folder and plans it.
 *
 * @param second the thread beside this one, started or not; it ends with the plan
 */
export async function loadProgram(
  folder: string,
  progress?: Progress,
  wanted: Wanted = "everything",
  second = new PlanThread(),
): Promise<Loaded> {
  try {
    let layingOut: Promise<{ readonly tables: PlanTables } | null> = Promise.resolve(null);
    const gathered = await gatherProgram(folder, undefined, second, (rows, basis) => {
      if (second.isWorking)
        layingOut = second.doneBeside({ kind: "lay out plan", rows, basis: dataOf(basis), wanted });
    });
    if (!gathered.ok) return gathered;
    const { settings, tables, problems, tallies } = gathered;
    const laidOut = (await layingOut)?.tables;
    const basis = await fitInThreads(tables, gathered.basis, second);
    const planned = await planInThreads(tables, basis, progress, wanted, second, laidOut);
    const program = await finishInThreads(tables, basis, planned, { problems, tallies }, second);
    return { ok: true, program, settings };
  } finally {
    // Nobody has to wait for its end.
    void second.end();
  }
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

const decidedForNobody = (id: string): Problem => ({
  severity: "noted",
  file: DECISIONS_FILE,
  row: null,
  column: "lateral",
  found: id,
  expected: "the id of a lateral of the city's file",
  remedy: "The decision has no effect while the lateral is not in the file.",
});

/**
 * The planned program with a progress bar on a terminal; null when it cannot be read. What keeps it from being read, or
 * touches a whole file or a decision, is said.
 */
export const loadOrSay = async (folder: string, io: CommandIo): Promise<PlannedProgram | null> =>
  (await loadWholeOrSay(folder, io))?.program ?? null;

/** How a program is planned. */
export interface Planning {
  readonly wanted?: Wanted;
  /** A thread that was started for it already. */
  readonly second?: PlanThread;
}

/** The same with the settings it was planned under. */
export async function loadWholeOrSay(
  folder: string,
  io: CommandIo,
  { wanted, second }: Planning = {},
): Promise<{ readonly program: PlannedProgram; readonly settings: Settings } | null> {
  const loaded = await loadProgram(
    folder,
    progressBar("planning", process.stderr, () => performance.now()),
    wanted,
    second,
  );
  if (loaded.ok) {
    sayProblems(loaded.program.problems.filter(isSaidAtOnce), io);
    return loaded;
  }
  sayProblems(loaded.problems, io);
  return null;
}

/** Each problem on a line of standard error. */
export function sayProblems(problems: readonly Problem[], io: CommandIo): void {
  for (const problem of problems) io.err(`${fitted(describeProblem(problem), io)}\n`);
}

/** Whether something of the city's files was left out: the exit code says so. */
export const exitCodeOf = ({ problems }: { readonly problems: readonly Problem[] }): ExitCode =>
  problems.some((problem) => problem.severity === "rejected") ? EXIT.doneWithProblems : EXIT.done;
