import { readFileSync } from "node:fs";
import type { InspectionFile, LateralFile, ObservationFile } from "../../src/columns/city-file.ts";
import { decidableColumns, sheetColumns } from "../../src/columns/dictionary.ts";
import { inspectionColumns, lateralColumns, observationColumns } from "../../src/columns/lateral-columns.ts";
import { prepareBasis } from "../../src/commands/prepare-basis.ts";
import { shownText } from "../../src/commands/shown-text.ts";
import { readFormula } from "../../src/formula/formula.ts";
import { describeFormulaProblem } from "../../src/formula/formula-problem.ts";
import { utf8Of } from "../../src/intake/decode.ts";
import { findFormat } from "../../src/intake/file-format.ts";
import { certainPlaces, matchHeadings } from "../../src/intake/heading-match.ts";
import { readInspections } from "../../src/intake/inspection-file.ts";
import { readLaterals } from "../../src/intake/lateral-file.ts";
import { readObservations } from "../../src/intake/observation-file.ts";
import { basisForSettings } from "../../src/program/basis-for-settings.ts";
import { changeSetLines, type NewChange } from "../../src/program/change-sets.ts";
import { readLogBytes } from "../../src/program/decision-log-text.ts";
import { readDecision } from "../../src/program/decision-value.ts";
import { foldDecisions } from "../../src/program/decisions.ts";
import { logHeading, ownForm, writeLine } from "../../src/program/log-lines.ts";
import {
  inspectionFile,
  lateralFile,
  observationFile,
  readSettingsText,
} from "../../src/program/settings.ts";
import type { Problem } from "../../src/quantity/problem.ts";
import { day } from "../../src/quantity/si.ts";
import { headerWords } from "../../src/reference/header-words.ts";
import { observationKinds } from "../../src/reference/observation-kinds.ts";
import { valueWords } from "../../src/reference/value-words.ts";
import { visible } from "../../src/screen/cell-text.ts";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { actionOf } from "../../src/screen/keymap.ts";
import { type Decoded, decodeKeys, decodeNoMore, noKeyBytes } from "../../src/screen/keys.ts";
import { widthOfLine } from "../../src/screen/line.ts";
import { startSession } from "../../src/screen/session.ts";
import type { Size } from "../../src/screen/sheet-view.ts";
import { step } from "../../src/screen/step.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { cellText, footerText } from "../../src/workbook/safe-text.ts";
import { lateralsOf } from "../intake/sample-files.ts";
import { numbered, plainSheet } from "../screen/plain-sheet.ts";
import { smallProgram } from "../workbook/small-program.ts";
import { fileTargets } from "./fuzz-files.ts";
import { bytesOf, type FuzzTarget, type Outcome, refusedFor, textOf, unsaid } from "./fuzz-results.ts";
import { keptSeeds, root } from "./seeds.ts";

const sample = (file: string): Uint8Array => new Uint8Array(readFileSync(`${root}/sample-programs/${file}`));
/** The headings and a few rows. */
const firstLines = (file: string, count: number): Uint8Array =>
  bytesOf(textOf(sample(file)).split("\n").slice(0, count).join("\n"));

const cities = ["quennock-falls", "kaltwendel"].map((city) => {
  const reading = readSettingsText(sample(`${city}/program.json`));
  if (!reading.ok) throw new Error(`fuzz-targets: ${city} does not read`);
  return { city, settings: reading.settings };
});
const quennock = cities[0]!.settings;
const laterals: LateralFile = lateralFile(quennock);
const inspections: InspectionFile = inspectionFile(quennock)!;
const observations: ObservationFile = observationFile(quennock)!;
const reading = { words: valueWords, ownWords: {}, districts: { Mill: ["mill area"] } };

async function* oneChunk(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}

interface Read {
  readonly problems: readonly Problem[];
  readonly tally: {
    readonly read: number;
    readonly kept: number;
    readonly duplicates: number;
    readonly rejected: number;
  };
  readonly table: { readonly rows: number };
}

/** Every row is accounted for, and none is rejected without a word. */
function accounted({ problems, tally, table }: Read): Outcome {
  const { read, kept, duplicates, rejected } = tally;
  if (read !== kept + duplicates + rejected) return { fault: `rows do not add up: ${JSON.stringify(tally)}` };
  if (table.rows !== kept) return { fault: `${table.rows} rows in the table, ${kept} kept` };
  if (rejected > 0 && !problems.some(({ severity }) => severity === "rejected"))
    return { fault: `${rejected} rows rejected without a word` };
  const fault = unsaid(problems);
  return fault === null ? (table.rows > 0 ? "taken" : "refused") : { fault };
}

const lateralIndex = lateralsOf(
  ...textOf(firstLines("quennock-falls/laterals.csv", 400))
    .split("\n")
    .flatMap((line) => line.split(","))
    .filter((cell) => /^\d{5}$/.test(cell)),
);
const encodings = ["utf-8", "windows-1252", "utf-16le"] as const;
/** A damaged file may be of any encoding: its first byte chooses, so that the bytes alone say all. */
const encodingFor = (bytes: Uint8Array) => encodings[(bytes[bytes.length >> 1] ?? 0) % 16] ?? "utf-8";
const decoded = (bytes: Uint8Array) => utf8Of(oneChunk(bytes), encodingFor(bytes));

const plannedTables = smallProgram("us", [], 8).tables;

function settingsOutcome(bytes: Uint8Array): Promise<Outcome> | Outcome {
  const read = readSettingsText(bytes);
  if (!read.ok) return refusedFor(read.problems);
  const basis = basisForSettings(read.settings);
  return prepareBasis(basis).then((prepared) => {
    if (!prepared.ok) return "refused";
    // What is taken must be planned with: nothing it says may break the plan.
    const { totals } = planProgram(plannedTables, prepared.basis, { problems: [], tallies: [] });
    const { laterals, cost } = totals.program;
    return laterals === plannedTables.laterals.rows && Number.isSafeInteger(cost)
      ? "taken"
      : { fault: `planned to ${laterals} laterals at ${cost}` };
  });
}

const vocabulary = { columns: sheetColumns, stage: "sheet", asOf: day(20_513), currency: "USD" } as const;
const formulaWords = [
  ..."+ - * / ^ ( ) , ? : == != < <= > >= and or not to in mod xor . ; = ! % [ ] { } & | ~ ' \" # @ import eval Function".split(
    " ",
  ),
  ..."constructor __proto__ prototype toString valueOf this globalThis process require NaN null e min max abs known pow sum range map".split(
    " ",
  ),
  ...sheetColumns.slice(0, 30).map(({ key }) => key),
  ...[
    "1:1e9",
    "((((",
    "9^9^9^9",
    "1e308*10",
    "6 in",
    "3 mm",
    "'yard'",
    '"street"',
    "true",
    "if_missing(",
    "round(",
  ],
];

function formulaOutcome(bytes: Uint8Array): Outcome {
  const text = textOf(bytes);
  const read = readFormula(text, vocabulary, null);
  if (!read.ok) {
    const { at } = read.problem;
    if (!(at >= 0 && at <= text.length)) return { fault: `a problem at ${at} of ${text.length}` };
    return describeFormulaProblem(text, read.problem) === "" ? { fault: "no words" } : "refused";
  }
  const measures = new Map(sheetColumns.map(({ key, measure }) => [key as string, measure]));
  const value: unknown = read.formula.evaluate((key) =>
    ["code", "text"].includes(measures.get(key) ?? "") ? "street" : key.length,
  );
  return typeof value === "number" ? "taken" : { fault: `came to ${String(value)}` };
}

function textOutcome(bytes: Uint8Array): Outcome {
  const text = textOf(bytes);
  const shown = [visible(text), shownText(text).replaceAll("\n", "")].join("");
  if (/[\p{Cc}\u061c\u200b-\u200f\u202a-\u202e\u2028\u2029\u2066-\u2069]/u.test(shown))
    return { fault: "obeyed" };
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  if (/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e]/.test(cellText(text) + footerText(text)))
    return { fault: "in a cell" };
  return "taken";
}

function decisionOutcome(bytes: Uint8Array): Outcome {
  const [lateral = "", column = "", value = "", ...reason] = textOf(bytes).split("|");
  const read = readDecision({ lateral, column, value, reason: reason.join("|") });
  return read.ok ? "taken" : refusedFor(read.problems);
}

function formatOutcome(bytes: Uint8Array): Outcome {
  const format = findFormat(bytes, "us");
  if (new Set(format.headings).size !== format.headings.length) return { fault: "two headings of one name" };
  certainPlaces(matchHeadings(format.headings, lateralColumns, headerWords.laterals, "us"));
  return format.headingRow === null ? "refused" : "taken";
}

/** Three closed change sets, as the program writes them. */
const LOG = (() => {
  const record = { lateral: "00417", column: "host_diameter", value: "6 in", reason: 'measured, "twice"' };
  const changes: readonly NewChange[] = [
    { kind: "set", records: [record, { ...record, lateral: "A;7", value: "8 in" }] },
    { kind: "undo", target: 1 },
    { kind: "redo", target: 1 },
  ];
  const stamp = { when: "2026-03-01T08:00:00Z", who: "R. Ames" };
  const lines = changes.flatMap((change, i) => changeSetLines(change, stamp, 1 + 3 * i, i + 1));
  return logHeading + lines.map((line) => writeLine(line, ownForm)).join("");
})();

const sheet = plainSheet(numbered(60));
const KEY_SIZES: readonly Size[] = [
  { columns: 80, rows: 24 },
  { columns: 20, rows: 5 },
  { columns: 1, rows: 1 },
  { columns: 240, rows: 70 },
];

/** Bytes as a terminal sends them, in two chunks, into the sheet; a frame must always fit its window. */
function keysOutcome(bytes: Uint8Array): Outcome {
  const size = KEY_SIZES[bytes.length % KEY_SIZES.length]!;
  let session = startSession(sheet);
  let pending = noKeyBytes;
  let pressed = 0;
  const take = (decoded: Decoded) => {
    pending = decoded.bytes;
    for (const press of decoded.keys) {
      const action = actionOf(press, session.prompt !== null);
      if (action === null) continue;
      pressed++;
      session = step(session, action, size, sheet).session;
    }
  };
  take(decodeKeys(pending, bytes.subarray(0, bytes.length >> 1)));
  take(decodeKeys(pending, bytes.subarray(bytes.length >> 1)));
  take(decodeNoMore(pending));
  const lines = drawFrame(session, sheet, size);
  if (lines.length > size.rows) return { fault: `${lines.length} lines in a window of ${size.rows}` };
  const wide = lines.find((line) => widthOfLine(line) > size.columns);
  if (wide !== undefined) return { fault: `a line of ${widthOfLine(wide)} in a window of ${size.columns}` };
  return pressed > 0 ? "taken" : "refused";
}

const surveys = await readInspections(
  decoded(firstLines("quennock-falls/inspections.csv", 40)),
  inspections,
  reading,
  lateralIndex,
);

export const fuzzTargets: readonly FuzzTarget[] = [
  {
    name: "laterals.csv",
    weight: 2,
    seeds: [firstLines("quennock-falls/laterals.csv", 12), ...keptSeeds("laterals")],
    words: lateralColumns.map(({ heading }) => heading),
    feed: async (bytes) => accounted(await readLaterals(decoded(bytes), laterals, reading)),
  },
  {
    name: "inspections.csv",
    weight: 2,
    seeds: [firstLines("quennock-falls/inspections.csv", 12), ...keptSeeds("inspections")],
    words: inspectionColumns.map(({ heading }) => heading),
    feed: async (bytes) =>
      accounted(await readInspections(decoded(bytes), inspections, reading, lateralIndex)),
  },
  {
    name: "observations.csv",
    weight: 1,
    seeds: [firstLines("quennock-falls/observations.csv", 12), ...keptSeeds("observations")],
    words: observationColumns.map(({ heading }) => heading),
    feed: async (bytes) => {
      const kinds = { kinds: observationKinds, cityKinds: quennock.observations?.kinds ?? {} };
      return accounted(
        await readObservations(decoded(bytes), observations, { ...reading, ...kinds }, lateralIndex, surveys),
      );
    },
  },
  {
    name: "a new city's file",
    weight: 1,
    seeds: [
      firstLines("quennock-falls/laterals.csv", 8),
      firstLines("kaltwendel/laterals.csv", 8),
      // Numbers alone: no headings can be found.
      bytesOf("00417,4,30\n00418,6,41\n00419,4,28\n"),
      ...keptSeeds("laterals"),
    ],
    words: lateralColumns.map(({ heading }) => heading),
    feed: formatOutcome,
  },
  {
    name: "program.json, bytes",
    weight: 4,
    seeds: [...cities.map(({ city }) => sample(`${city}/program.json`)), ...keptSeeds("program")],
    words: ['"__proto__"', '"schema": 2', '"../x.csv"', "[[[[[[[[", '"criteria": {'],
    jsonFrom: 0,
    feed: settingsOutcome,
  },
  {
    name: "program.json, tables laid over",
    weight: 1,
    // Made by settings-at-random.ts from the schema; these bytes are not used.
    seeds: [],
    words: [],
    feed: settingsOutcome,
  },
  {
    name: "decisions.csv",
    weight: 12,
    seeds: [bytesOf(LOG), ...keptSeeds("decisions")],
    words: [
      "close",
      "undo",
      "redo",
      "1 record",
      "sha256:0000000000000000",
      ...decidableColumns.map(({ key }) => key),
    ],
    feed: (bytes) => {
      const log = readLogBytes(bytes);
      const { problems } = foldDecisions(log.sets);
      if (!(log.keep >= 0 && log.keep <= bytes.length))
        return { fault: `keeps ${log.keep} of ${bytes.length} bytes` };
      const fault = unsaid([...log.problems, ...problems]);
      return fault === null ? (log.sets.length > 0 ? "taken" : "refused") : { fault };
    },
  },
  {
    name: "decided values",
    weight: 24,
    seeds: [
      "00417|host_diameter|6 in|measured",
      "A|treatment|full-length liner|x",
      "A|host_length|37'-6\"|x",
    ].map(bytesOf),
    words: decidableColumns.map(({ key }) => key),
    feed: decisionOutcome,
  },
  {
    name: "formulas",
    weight: 50,
    seeds: ["host_length * 2", "risk > 3 ? 1 : 0", "min(1, 2, risk)", 'surface == "street" and risk >= 2']
      .map(bytesOf)
      .concat(keptSeeds("formula")),
    words: formulaWords,
    feed: formulaOutcome,
  },
  {
    name: "keys in the sheet",
    weight: 6,
    seeds: [
      bytesOf("\u001b[B\u001b[C\u001b[6~wsf?q "),
      bytesOf("\u001b[200~pasted\u001b[201~\r"),
      ...keptSeeds("keys"),
    ],
    words: [
      "\u001b[A",
      "\u001b[B",
      "\u001b[1;5H",
      "\u001bOP",
      "\u001b[<0;1;1M",
      "\u001b[200~",
      "\t",
      "\r",
      ..."wdpshfo/:6+-".split(""),
    ],
    // Each key is a step of the sheet: ten thousand of them are held down for minutes.
    most: 10_000,
    feed: keysOutcome,
  },
  {
    name: "text to be shown",
    weight: 24,
    seeds: [bytesOf("Mill Street 4, \u001b[2J\u202eevil é 雨 🦆"), ...keptSeeds("text")],
    words: ["\u2066", "\u200b", "\u0301", "🏳️‍🌈", "\u{e0041}", "_x0041_", "&G"],
    feed: textOutcome,
  },
  ...fileTargets,
];
