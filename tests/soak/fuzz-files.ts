/** Damaged input for what stands in a program folder besides the city's files, and for what comes back from bidders. */
import { readFileSync } from "node:fs";
import { Writable } from "node:stream";
import { correctBid } from "../../src/bidding/corrected-bid.ts";
import { priceUnit } from "../../src/bidding/unit-price.ts";
import { compareCurves } from "../../src/commands/compare-curves.ts";
import { curveText as curveWords } from "../../src/commands/curve-text.ts";
import { curveRead } from "../../src/commands/curves-saved.ts";
import { rankingOf } from "../../src/commands/take-run.ts";
import { hashOf } from "../../src/program/content-hash.ts";
import { readCostBook } from "../../src/program/cost-book-file.ts";
import { readRecord } from "../../src/program/issue-records.ts";
import { curveText as curveFile, type NewCurve, readCurveText } from "../../src/program/season-curves.ts";
import { readSeasonRunText, type SeasonRun } from "../../src/program/season-runs.ts";
import { type Run, snapshotSchema } from "../../src/program/snapshot-schema.ts";
import { readSnapshotText, snapshotText } from "../../src/program/snapshots.ts";
import { bidItemKeys, houseBidItems } from "../../src/reference/bid-items.ts";
import { restoreTables, saveTables } from "../../src/season/saved-tables.ts";
import { programOfSeason } from "../../src/season/season-program.ts";
import { numberAt, textAt } from "../../src/sheet/table.ts";
import { buildBidBook } from "../../src/workbook/bid-book.ts";
import { readBidView } from "../../src/workbook/bid-view.ts";
import { readIssued } from "../../src/workbook/issued-bid.ts";
import { readPlainBook } from "../../src/workbook/plain-book.ts";
import { readBid } from "../../src/workbook/read-bid.ts";
import { differences } from "../../src/workbook/returned-differences.ts";
import { writeXlsx } from "../../src/workbook/write-xlsx.ts";
import { readZip, unpack, writeZip } from "../../src/workbook/zip-file.ts";
import { allRules } from "../bidding/examples.ts";
import { smallContents, smallProgram } from "../workbook/small-program.ts";
import { bytesOf, type FuzzTarget, type Outcome, refusedFor, textOf, unsaid } from "./fuzz-results.ts";
import { houseTables, readsAsTable } from "./fuzz-tables.ts";
import { keptSeeds, root } from "./seeds.ts";

const program = smallProgram("us", [], 5);
const json = (value: unknown): Uint8Array => bytesOf(JSON.stringify(value, null, 1));

const season: SeasonRun = {
  schema: 1,
  saved: { when: "2026-03-01T08:00:00Z", who: "R. Ames" },
  as_of: "2026-03-01",
  season: { crews: 2 },
  ended: "proven",
  worth: 1_000,
  bound: 1_010,
  gap: 0.01,
  works: 100_000,
  mobilization: 10_000,
  chosen: [0, 1, 2].map((row) => ({
    lateral: textAt(program.laterals, "lateral", row),
    treatment: textAt(program.laterals, "treatment", row),
    cost: numberAt(program.laterals, "cost", row) || 0,
  })),
};

/** A season is read, then planned: what it names and the program has not is a problem, never a crash. */
function seasonOutcome(bytes: Uint8Array): Outcome {
  const read = readSeasonRunText(textOf(bytes), "runs/x.json");
  if (!read.ok) return refusedFor(read.problems);
  const { problems } = programOfSeason(program, "x", read.run.chosen);
  const fault = unsaid(problems);
  return fault === null ? "taken" : { fault };
}

const curve: NewCurve = {
  saved: season.saved,
  as_of: season.as_of,
  currency: "USD",
  season: season.season,
  objective: { loss_avoided: 1, infiltration_removed: 0 },
  vary: { of: "budget", crew: null },
  points: [1, 2, 3].map((i) => ({ amount: i * 50_000, worth: i * 1_000, gap: 0.01, inputs: hashOf(`${i}`) })),
};
const curveView = {
  rules: { objective: { lossAvoided: 1, infiltrationRemoved: 0 } },
  pays: "whole cost",
  style: { units: "us", currency: "USD" },
} as const;

/** A curve is read, also sealed anew, then shown and compared: what is taken must not break the page. */
function curveOutcome(bytes: Uint8Array): Outcome {
  const text = textOf(bytes);
  let read = readCurveText(text, "curves/x.json");
  if (!read.ok && read.problems.some(({ found }) => found.startsWith("values that were changed")))
    read = readCurveText(curveFile(parsed(text) as NewCurve), "curves/x.json");
  if (!read.ok) return refusedFor(read.problems);
  const compared = compareCurves(read.run, curve);
  const page = curveWords(curveRead(read.run), read.run.vary, curveView, 80);
  return page === "" || (compared.ok && compared.points.length < read.run.points.length)
    ? { fault: "points went missing" }
    : "taken";
}

const run: Run = {
  as_of: "2026-03-01",
  inputs: [{ file: "laterals.csv", sha256: hashOf("laterals") }],
  settings: { sha256: hashOf("{}"), text: "{}" },
  decisions: { sha256: hashOf("") },
  ranking: rankingOf(program),
  values: JSON.parse(JSON.stringify(saveTables(program.tables))) as Run["values"],
};
const saved = { when: "2026-03-01T08:00:00Z", who: "R. Ames", by: "wyeplan plan" };

/** As it is; and, where only the seal would refuse it, sealed anew, as somebody with bad intent would. */
function snapshotOutcome(bytes: Uint8Array): Outcome {
  let text = textOf(bytes);
  let read = readSnapshotText(text, "snapshots/x.json");
  const shape = read.ok ? null : snapshotSchema.safeParse(parsed(text));
  if (shape?.success === true) {
    text = snapshotText(shape.data, shape.data.saved);
    read = readSnapshotText(text, "snapshots/x.json");
  }
  if (!read.ok) return refusedFor(read.problems);
  const { laterals } = restoreTables(read.snapshot.values);
  const { length } = read.snapshot.ranking.laterals;
  return laterals.rows === length ? "taken" : { fault: `${laterals.rows} laterals, ${length} ranked` };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const record = {
  schema: 1,
  number: 1,
  date: "2026-03-01",
  addendum: null,
  content: "abcd",
  book: { file: "outputs/bid-book-1.xlsx", sha256: hashOf("book") },
  lines: [{ key: "a", item: "1", wording: "Mobilization", unit: "lump sum", hundredths: 100 }],
  sheets: [{ name: "Laterals", notes: ["n"], headings: ["id"], keys: [0], rows: [["00417"]] }],
};

function costBookOutcome(bytes: Uint8Array): Outcome {
  const read = readCostBook("book.json", bytes);
  if (!read.ok) return refusedFor(read.problems);
  for (const item of bidItemKeys) {
    const priced = priceUnit(
      read.book,
      { item, variant: "4 in", hundredths: 100, itemHundredths: 300 },
      null,
    );
    if (priced.ok && !Number.isInteger(priced.unit.price))
      return { fault: `${item} at ${priced.unit.price}` };
  }
  return "taken";
}

const issuedModel = buildBidBook(readBidView(smallContents("us", [], 3)));
const issuedBytes = await (async () => {
  const chunks: Uint8Array[] = [];
  const into = new Writable({
    write: (chunk: Uint8Array, _encoding, done) => {
      chunks.push(chunk);
      done();
    },
  });
  await writeXlsx(issuedModel, into);
  return Buffer.concat(chunks);
})();
const members = readZip(issuedBytes);
const issued = (() => {
  const plain = readPlainBook("issued.xlsx", issuedBytes);
  const read = plain.ok ? readIssued("issued.xlsx", plain.value, houseBidItems) : plain;
  if (!plain.ok || !read.ok) throw new Error("fuzz-files: the issued book does not read");
  return { plain: plain.value, own: read.value };
})();

/** The whole way of a returned workbook. */
function bookOutcome(bytes: Uint8Array): Outcome {
  const read = readPlainBook("a.xlsx", Buffer.from(bytes));
  if (!read.ok) return refusedFor(read.problems);
  const own = readIssued("a.xlsx", read.value, houseBidItems);
  if (!own.ok) return refusedFor(own.problems);
  const found = differences("a.xlsx", issued.plain, issued.own, read.value);
  if (found.problems.length > 0) return refusedFor(found.problems);
  correctBid(readBid("a.xlsx", read.value, issued.own, found.additions), issued.own.lines, allRules);
  return "taken";
}

/** Members worth damaging, by the first byte of the text: `\0` and up name one, the rest of the bytes are its content. */
const damagedMembers = [
  "xl/worksheets/sheet3.xml",
  "xl/workbook.xml",
  "xl/sharedStrings.xml",
  "xl/worksheets/sheet2.xml",
  "xl/_rels/workbook.xml.rels",
  "[Content_Types].xml",
].filter((name) => members.some((member) => member.name === name));

/** Damaged text of one member, well packed: what is behind the zip file's own checks. */
function memberOutcome(bytes: Uint8Array): Outcome {
  const name = damagedMembers[(bytes[0] ?? 0) % damagedMembers.length]!;
  return bookOutcome(writeZip(members, new Map([[name, Buffer.from(bytes.subarray(1))]])));
}

export const fileTargets: readonly FuzzTarget[] = [
  {
    name: "saved seasons",
    weight: 2,
    seeds: [json(season), ...keptSeeds("season")],
    words: ['"chosen": [', '"lateral"', '"__proto__"', "1e400", '"full-length liner"'],
    jsonFrom: 0,
    feed: seasonOutcome,
  },
  {
    name: "saved curves",
    weight: 2,
    seeds: [bytesOf(curveFile(curve)), ...keptSeeds("curve")],
    words: ['"points": [', '"amount": 1e300', '"__proto__"', '"of": "season"', "null"],
    jsonFrom: 0,
    feed: curveOutcome,
  },
  {
    name: "snapshots",
    weight: 2,
    seeds: [bytesOf(snapshotText(run, saved)), ...keptSeeds("snapshot")],
    words: ['"codes":[', '"rows":', '"__proto__"', '"kind":"number"', "4294967296", "null"],
    jsonFrom: 0,
    feed: snapshotOutcome,
  },
  {
    name: "records of issues",
    weight: 2,
    seeds: [json(record), ...keptSeeds("issue")],
    words: ['"../../x"', '"number": 2', '"rows"', '"__proto__"'],
    jsonFrom: 0,
    feed: (bytes) => (readRecord(textOf(bytes)) === null ? "refused" : "taken"),
  },
  {
    name: "cost books",
    weight: 2,
    seeds: [
      new Uint8Array(readFileSync(`${root}/sample-programs/demo-cost-book.json`)),
      ...keptSeeds("cost-book"),
    ],
    words: ['"plan"', '"__proto__"', '"constructor": 1', "1e308", "-0", '"sizes": {', '"per_job": 1'],
    jsonFrom: 0,
    feed: costBookOutcome,
  },
  {
    name: "reference tables",
    weight: 4,
    seeds: [...houseTables, ...keptSeeds("table")],
    words: ['"source"', '"document": ""', '"__proto__"', "1e308", "-1", "null", '"values": {'],
    jsonFrom: 1,
    feed: readsAsTable,
  },
  {
    name: "returned workbooks, bytes",
    weight: 2,
    seeds: [issuedBytes, ...keptSeeds("book")],
    words: ["PK\u0001\u0002", "PK\u0003\u0004", "PK\u0005\u0006", "xl/vbaProject.bin", "\u0008\u0000"],
    feed: bookOutcome,
  },
  {
    name: "returned workbooks, XML",
    weight: 2,
    seeds: [
      ...damagedMembers.map((name, i) =>
        Buffer.concat([Buffer.from([i]), unpack(members.find((member) => member.name === name)!)]),
      ),
      ...keptSeeds("member"),
    ],
    words: ["<!DOCTYPE a>", "<!ENTITY", "]]>", "<!--", "&#0;", "&lt;", 't="s"', "<f>", "</c>", "XFD1048576"],
    feed: memberOutcome,
  },
];
