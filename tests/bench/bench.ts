/**
 * `npm run bench [-- TABLE … N … --peers]`: measures on invented cities of N laterals (10,000 and 100,000 unless given)
 * and prints tables: plan, workbook, startup, sheet, formulas, selection, packed; all of them unless some are named. Peers do
 * the same work in the same run where they are installed; `--peers` says how to install them and stops where they are
 * not. Times are of the machine it runs on, once, after one small run to warm up.
 */
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { HOW_TO_INSTALL, peerPython } from "./peers/peers.ts";
import type { Places } from "./plan-bench.ts";

const WARM_UP = 500;
const SIZES = [10_000, 100_000];

type Table = (sizes: readonly number[], places: Places) => Promise<string>;
const tables: Readonly<Record<string, Table>> = {
  plan: async (sizes, places) => {
    const { benchPlan } = await import("./plan-bench.ts");
    await benchPlan([WARM_UP], { ...places, python: null });
    return benchPlan(sizes, places);
  },
  workbook: async (sizes, places) => (await import("./workbook-bench.ts")).benchWorkbook(sizes, places),
  startup: async (_, { root }) => (await import("./startup-bench.ts")).benchStartup(root),
  sheet: async (sizes, places) => (await import("./sheet-bench.ts")).benchSheet(sizes, places),
  formulas: async () => (await import("./formula-table.ts")).formulaTable(),
  selection: async (sizes) => (await import("./selection-bench.ts")).benchSelection(sizes),
  packed: async (sizes) => (await import("./selection-bench.ts")).benchPacked(sizes),
};

async function main(args: readonly string[]): Promise<number> {
  const sizes = args.filter((arg) => /^[1-9]\d*$/.test(arg)).map(Number);
  const named = args.filter((arg) => arg in tables);
  const unknown = args.filter((arg) => !/^[1-9]\d*$/.test(arg) && !(arg in tables) && arg !== "--peers");
  if (unknown.length > 0) {
    console.error(`npm run bench -- [${Object.keys(tables).join("] [")}] [10000 100000 …] [--peers]`);
    return 2;
  }
  const python = await peerPython();
  if (args.includes("--peers")) console.log(`The peers come with: ${HOW_TO_INSTALL}`);
  if (python === null) {
    console.log("The peers are not installed here: their lines are left out.");
    if (args.includes("--peers")) return 1;
  }
  const places: Places = { root: fileURLToPath(new URL("..", import.meta.url)), python };
  console.log(
    `Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model ?? "unknown processor"}, ${new Date().toISOString().slice(0, 10)}`,
  );
  for (const name of named.length > 0 ? named : Object.keys(tables))
    console.log(`\n${await tables[name]!(sizes.length > 0 ? sizes : SIZES, places)}`);
  return 0;
}

const [first, second] = process.argv.slice(2);
if (first === "write-sheet" && second !== undefined)
  await (await import("./sheet-writing.ts")).writeSheetCase(second);
else process.exitCode = await main(process.argv.slice(2));
