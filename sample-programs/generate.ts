import { mkdir, readdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { parseArgs } from "node:util";
import { isSampleStyle } from "./city-spec.ts";
import { describeSamples } from "./describe-samples.ts";
import { WINTER_FILE, winterSurveys } from "./winter-surveys.ts";
import { type Order, trackedSamples, writeCity } from "./write-city.ts";

const USAGE = `Makes invented cities to plan for.

  npm run sample -- --laterals N --out DIR [--seed S] [--style us|si] [--plain]
  npm run sample -- --sample us|si [--out DIR]     the samples that come with the program
  npm run sample -- --winter [--out FILE]          new surveys for the US sample, to be added to it
  npm run sample -- --describe                     tables of what the samples are like

  --laterals N   how many laterals, 1 to 10,000,000
  --out DIR      folder to write laterals.csv, inspections.csv, program.json and, in the us style, observations.csv into
  --seed S       whole number, 1 unless given; the same seed makes the same files
  --style        us (feet, inches, commas) or si (metres, millimetres, semicolons); us unless given
  --plain        clean files, without the oddities of real city files`;

const MOST_LATERALS = 10_000_000;
const DEFAULT_SEED = 1;

/** Thrown for what a person typed. */
class UsageError extends Error {}

async function main(argv: string[]): Promise<void> {
  const options = readOptions(argv);
  if (options.help === true) {
    console.log(USAGE);
    return;
  }
  if (options.describe === true) {
    console.log(describeSamples());
    return;
  }
  if (options.winter === true) {
    const file = options.out ?? join("sample-programs", WINTER_FILE);
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, winterSurveys());
    return;
  }
  const style = options.sample ?? options.style ?? "us";
  if (!isSampleStyle(style)) throw new UsageError(`The style is us or si, not ${JSON.stringify(style)}.`);
  if (options.sample !== undefined) {
    const { folder, order } = trackedSamples[style];
    await report(options.out ?? join("sample-programs", folder), order);
    return;
  }
  if (options.out === undefined) throw new UsageError("Say where to write with --out DIR.");
  const laterals = wholeNumber("--laterals", options.laterals, 1, MOST_LATERALS);
  const seed =
    options.seed === undefined ? DEFAULT_SEED : wholeNumber("--seed", options.seed, 0, 2 ** 31 - 1);
  const name = `Invented city, ${laterals} laterals, seed ${seed}`;
  if (await holdsSomething(options.out))
    throw new UsageError(
      `${options.out} is not empty. Name a new folder: nothing that is there is overwritten.`,
    );
  await report(options.out, { style, laterals, seed, plain: options.plain === true, name });
}

const holdsSomething = (folder: string): Promise<boolean> =>
  readdir(folder).then(
    (names) => names.length > 0,
    () => false,
  );

async function report(folder: string, order: Order): Promise<void> {
  const { laterals, lateralRows, inspectionRows, observationRows } = await writeCity(folder, order);
  console.log(
    `${folder}: ${laterals} laterals in ${lateralRows} rows, ${inspectionRows} inspection rows, ${observationRows} observation rows`,
  );
}

function readOptions(argv: string[]) {
  try {
    return parseArgs({
      args: argv,
      options: {
        laterals: { type: "string" },
        out: { type: "string" },
        seed: { type: "string" },
        style: { type: "string" },
        plain: { type: "boolean" },
        sample: { type: "string" },
        describe: { type: "boolean" },
        winter: { type: "boolean" },
        help: { type: "boolean", short: "h" },
      },
    }).values;
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}

function wholeNumber(option: string, text: string | undefined, least: number, most: number): number {
  const value = Number(text);
  if (text === undefined || !/^\d+$/.test(text) || value < least || value > most)
    throw new UsageError(
      `${option} is a whole number from ${least} to ${most}, not ${JSON.stringify(text ?? "")}.`,
    );
  return value;
}

main(process.argv.slice(2)).catch((error: unknown) => {
  if (error instanceof UsageError) console.error(`${error.message}\n\n${USAGE}`);
  else console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = error instanceof UsageError ? 2 : 1;
});
