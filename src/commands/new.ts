import { basename, resolve } from "node:path";
import { inspectionColumns, lateralColumns, observationColumns } from "../columns/lateral-columns.ts";
import { findFormat } from "../intake/file-format.ts";
import { noGrades } from "../intake/no-grades.ts";
import { asTyped } from "../program/as-typed.ts";
import { makeProgram } from "../program/new-program.ts";
import { headerWords } from "../reference/header-words.ts";
import type { Ask } from "./ask.ts";
import { CannotMake } from "./cannot-make.ts";
import { chooseDay, chooseUnits, chooseWorstGrade } from "./choose-settings.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { firstBytes } from "./first-bytes.ts";
import { readGiven } from "./given-columns.ts";
import { sayProblems } from "./load-program.ts";
import { cityFile, freeHeadings, mapFile } from "./map-columns.ts";
import { fitted } from "./wrapped.ts";

export interface NewOptions {
  readonly laterals: string;
  readonly inspections?: string;
  readonly observations?: string;
  readonly name?: string;
  readonly asOf?: string;
  readonly units?: string;
  readonly currency?: string;
  readonly worstGrade?: string;
  /** A JSON file with the `laterals`, `inspections` and `observations` columns that the headings alone do not settle. */
  readonly settings?: string;
}

/**
 * `wyeplan new FOLDER --laterals F [--inspections F [--observations F]]`: makes a program of a city's files. Headings
 * that are not certain are asked about; with nobody to ask (`ask` null) the lines to write are printed and nothing is made. What the
 * headings do not give is said, because a plan may hang on it.
 */
export async function newProgram(
  folder: string,
  options: NewOptions,
  io: CommandIo,
  ask: Ask | null,
): Promise<ExitCode> {
  try {
    return await make(folder, options, io, ask);
  } catch (error) {
    if (!(error instanceof CannotMake)) throw error;
    io.err(`${fitted(error.message, io)}\n`);
    return EXIT.notDone;
  }
}

async function make(folder: string, options: NewOptions, io: CommandIo, ask: Ask | null): Promise<ExitCode> {
  const asOf = chooseDay(options.asOf, io);
  const given = options.settings === undefined ? {} : await readGiven(options.settings);
  const sample = await firstBytes(options.laterals);
  const units = chooseUnits(options.units, findFormat(sample, "us"), io);
  const lateralFormat = findFormat(sample, units);
  const surveyFormat =
    options.inspections === undefined ? null : findFormat(await firstBytes(options.inspections), units);
  const worstGrade = chooseWorstGrade(options.worstGrade, surveyFormat !== null, io);

  const ways = { units, given, io, ask };
  const laterals = await mapFile("laterals", lateralFormat, lateralColumns, headerWords.laterals, ways);
  const inspections =
    surveyFormat === null
      ? null
      : await mapFile("inspections", surveyFormat, inspectionColumns, headerWords.inspections, ways);
  if (options.observations !== undefined && surveyFormat === null)
    throw new CannotMake("--observations: the surveys they are of are missing; give --inspections too.");
  const seenFormat =
    options.observations === undefined ? null : findFormat(await firstBytes(options.observations), units);
  const observations =
    seenFormat === null
      ? null
      : await mapFile("observations", seenFormat, observationColumns, headerWords.observations, ways);
  if (laterals.unsettled || inspections?.unsettled || observations?.unsettled) {
    const file = {
      laterals: { columns: laterals.toWrite },
      ...(inspections === null ? {} : { inspections: { columns: inspections.toWrite } }),
      ...(observations === null ? {} : { observations: { columns: observations.toWrite } }),
    };
    io.err(
      "Nothing was made. Save these lines as columns.json, corrected (what is ? is to be chosen; a column that the\n" +
        `file does not have is null), and give them with --settings columns.json:\n${JSON.stringify(file, null, 2)}\n`,
    );
    return EXIT.notDone;
  }

  const made = await makeProgram({
    folder,
    head: {
      name: options.name ?? basename(resolve(folder)),
      asOf,
      units,
      currency: options.currency ?? (units === "us" ? "USD" : "EUR"),
    },
    laterals: { path: options.laterals, mapping: cityFile(options.laterals, lateralFormat, laterals.places) },
    inspections:
      options.inspections === undefined || surveyFormat === null || inspections === null
        ? null
        : {
            path: options.inspections,
            mapping: { ...cityFile(options.inspections, surveyFormat, inspections.places), worstGrade },
          },
    observations:
      options.observations === undefined || seenFormat === null || observations === null
        ? null
        : {
            path: options.observations,
            mapping: { ...cityFile(options.observations, seenFormat, observations.places), worstGrade },
          },
  });
  if (!made.ok) {
    sayProblems(made.problems, io);
    return EXIT.notDone;
  }
  if (laterals.places.cross_bore === undefined)
    io.err(
      `${fitted('No heading says which laterals are cleared of gas cross-bores: none will be cut or lined. If one does, write under laterals, columns in program.json "cross_bore": { "heading": "…" }.', io)}\n`,
    );
  if (options.inspections !== undefined && surveyFormat !== null && inspections !== null) {
    const file = { file: basename(options.inspections), columns: inspections.places };
    const without = noGrades(file, { count: 0, graded: 0 }, freeHeadings(surveyFormat, inspections.places));
    if (without !== null && observations?.places.grade === undefined) sayProblems([without], io);
  }
  io.out(
    `Made ${folder}. Its settings are in ${folder}/program.json: look at the columns there.\n` +
      `No unit prices yet: add "unit_prices" to the settings to see costs.\n` +
      `Next: wyeplan check ${asTyped(folder)}, then wyeplan plan ${asTyped(folder)}; wyeplan ${asTyped(folder)} opens the sheet\n`,
  );
  return EXIT.done;
}
