import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { join } from "node:path";
import Papa from "papaparse";
import { plainTable } from "../../src/commands/plain-table.ts";
import { writeWorkbook } from "../../src/commands/write-workbook.ts";
import { fitProgram } from "../../src/season/fits.ts";
import { gatherCity, planCity, withCity } from "./bench-city.ts";
import { type Agreement, compareWithPeer, totalScope, workOutScope, writeCase } from "./peers/peer-case.ts";
import { runPeer } from "./peers/peers.ts";
import { plainSheet } from "./peers/plain-sheet.ts";
import { runNode } from "./run-program.ts";
import { layDownSheet, PEERS_LEVEL, writeOurs, writeTheirs } from "./sheet-writing.ts";
import { type Measured, timed } from "./timed.ts";

/** Where the bench finds what is no code: the folder of the program, and in it the peers' script and the tables. */
export interface Places {
  readonly root: string;
  /** Null where the peers are not installed. */
  readonly python: string | null;
}

/** Both whole workbooks of more laterals than this take minutes, and no peer writes them. */
const WHOLE_BOOKS = 200_000;

/** papaparse alone on both files, in its fastest correct use: the floor under any import. */
async function readOnly(files: readonly string[]): Promise<void> {
  for (const file of files) await papaparseAlone(file);
}

function papaparseAlone(path: string): Promise<number> {
  return new Promise((resolve, reject) => {
    let cells = 0;
    Papa.parse(createReadStream(path, { encoding: "utf8", highWaterMark: 65_536 }) as never, {
      delimiter: ",",
      newline: "\r\n",
      header: false,
      chunk: ({ data }: Papa.ParseResult<string[]>) => {
        for (const row of data) cells += row.length;
      },
      complete: () => resolve(cells),
      error: reject,
    });
  });
}

interface Line extends Measured {
  readonly who: string;
}

/** One city: the floor, the command, its steps on one thread, then the part of it that the peer does too, by both. */
async function measurePlan(laterals: number, { root, python }: Places) {
  return await withCity(laterals, async (city, folder) => {
    const files = ["laterals.csv", "inspections.csv"].map((file) => join(city, file));
    let bytes = 0;
    for (const file of files) bytes += (await stat(file)).size;

    const floor: Measured[] = [];
    await timed(floor, "both files read, nothing kept", () => readOnly(files));
    const command = runNode("wyeplan plan", [join(root, "dist/main.js"), "plan", city]);
    const whole: Measured[] = [];
    const gathered = await timed(whole, "import", () => gatherCity(city));
    const program = await timed(whole, "fits, plan with every offer, ranks, totals", () =>
      planCity(gathered),
    );
    let written = 0;
    if (laterals <= WHOLE_BOOKS) {
      const books = await timed(whole, "both workbooks", () => writeWorkbook(program, join(folder, "out")));
      for (const book of Object.values(books)) written += (await stat(book)).size;
    }

    const same: Measured[] = [];
    const basis = fitProgram(gathered.tables, gathered.basis);
    const scope = await timed(same, "the peer's part: grades, risk, ranks, walls", () =>
      workOutScope(gathered, basis),
    );
    const totals = await timed(same, "the peer's part: totals by district", () =>
      totalScope(gathered.tables.laterals, scope),
    );
    const peer = python === null ? null : await measurePeer(python);
    const lines: readonly Line[] = [
      ...floor.map((each) => ({ ...each, who: "papaparse" })),
      { step: "wyeplan plan, start to end", ...command, who: "wyeplan" },
      ...[...whole, ...same].map((each) => ({ ...each, who: "wyeplan, one thread" })),
      ...(peer === null ? [] : peer.lines),
    ];
    return { lines, command, bytes, written, ours: whole[0]!.seconds + secondsOf(same), peer };

    async function measurePeer(python: string) {
      const from = await writeCase(folder, city, join(root, "shared"), gathered, basis, scope);
      const { times } = await runPeer(python, join(root, "tests/bench/peers/plan_peer.py"), from.file);
      const agreement = await compareWithPeer(from, gathered.tables.laterals, scope, totals);
      const { program: head } = program.basis;
      const plain = plainSheet(program.laterals, program.columns, head.units);
      const laid = await layDownSheet(plain, head, folder);
      const ours = await writeOurs(laid, PEERS_LEVEL);
      const theirs = await writeTheirs(laid, "xlsxwriter", { root, python });
      const step = "a sheet of thirty styled columns written";
      const steps: Readonly<Record<string, string>> = {
        import: "import",
        scope: "the peer's part: risk, ranks, walls (grades given)",
        totals: "the peer's part: totals by district",
      };
      const lines: readonly Line[] = [
        { ...ours, step, who: "wyeplan, one thread" },
        ...times.map((each) => ({ ...each, who: "pandas", step: steps[each.step] ?? each.step })),
        { ...theirs, step, who: "pandas, xlsxwriter" },
      ];
      return { lines, seconds: secondsOf(times), sheet: ours.seconds, theirSheet: theirs.seconds, agreement };
    }
  });
}

const secondsOf = (all: readonly { readonly seconds: number }[]) =>
  all.reduce((sum, each) => sum + each.seconds, 0);

const right = (heading: string) => ({ heading, align: "right" as const });
const left = (heading: string) => ({ heading, align: "left" as const });

/** The table of the plan, with what the peer makes of the same city. */
export async function benchPlan(sizes: readonly number[], places: Places): Promise<string> {
  const rows: (readonly string[])[] = [];
  const notes: string[] = [];
  for (const size of sizes) {
    const { lines, command, bytes, written, ours, peer } = await measurePlan(size, places);
    const floor = lines[0]!.seconds;
    for (const [i, { who, step, seconds, peak }] of lines.entries())
      rows.push([
        i === 0 ? size.toLocaleString("en-US") : "",
        who,
        step,
        seconds.toFixed(2),
        ((seconds / size) * 1e6).toFixed(1),
        (seconds / floor).toFixed(1),
        peak.toFixed(0),
      ]);
    notes.push(
      `${size.toLocaleString("en-US")}: ${(bytes / 1e6).toFixed(1)} MB read, ${(written / 1e6).toFixed(1)} MB of workbooks; the command took ${command.processorSeconds.toFixed(2)} s of processor time.`,
    );
    if (peer !== null)
      notes.push(
        `${size.toLocaleString("en-US")}: import and the peer's part ${timesAs(ours, peer.seconds)}`,
        `${size.toLocaleString("en-US")}: the same and the sheet ${timesAs(ours + peer.sheet, peer.seconds + peer.theirSheet)}`,
        agreementLine(peer.agreement),
      );
  }
  return `Plan: from a city's files to totals and workbooks; peak memory, MB, is the command's own, and of the bench so far
${plainTable([right("Laterals"), left("Who"), left("What"), right("Seconds"), right("µs a lateral"), right("× floor"), right("Peak MB")], rows)}
${notes.join("\n")}`;
}

const timesAs = (ours: number, theirs: number) =>
  `${ours.toFixed(2)} s, theirs ${theirs.toFixed(2)} s: ${(ours / theirs).toFixed(2)} of their time.`;

const agreementLine = ({
  laterals,
  walls,
  otherRank,
  otherStocked,
  wall,
  score,
  otherDistricts,
}: Agreement) =>
  `  Of ${laterals.toLocaleString("en-US")} laterals ${otherRank} differ in rank, ${otherStocked} in stocked wall; ` +
  `${walls.toLocaleString("en-US")} calculated walls differ by ${wall.toExponential(1)} mm at most, scores by ${score.toExponential(1)}; ` +
  `${otherDistricts} districts differ.`;
