import { plainTable } from "../../src/commands/plain-table.ts";
import { selectSeason } from "../../src/season/selection/select-season.ts";
import { loadSolver } from "../../src/workers/highs-solver.ts";
import { inventSeason } from "./selection-case.ts";

const SIZES = [10_000, 100_000, 1_000_000];

/** Times the selection of invented seasons with three offers a lateral to a gap of a thousandth, on one thread. */
export async function benchSelection(): Promise<string> {
  const solver = await loadSolver();
  selectSeason(inventSeason(500, 1), solver);
  const rows = SIZES.map((laterals) => {
    const problem = inventSeason(laterals, 1);
    const started = performance.now();
    const found = selectSeason(problem, solver);
    const seconds = (performance.now() - started) / 1000;
    return [
      laterals.toLocaleString("en-US"),
      seconds.toFixed(1),
      found.ok ? `${(found.gap * 100).toFixed(4)} %` : found.why,
      found.ok ? found.ended : "",
      found.ok ? String(found.core) : "",
      String(Math.round(process.resourceUsage().maxRSS / 1024)),
    ];
  });
  const right = (heading: string) => ({ heading, align: "right" as const });
  const columns = ["laterals", "seconds", "gap", "ended", "core", "peak MB"].map(right);
  return `Selection: three offers a lateral, 20 districts to open, three crews, money for a fifth\n${plainTable(columns, rows)}`;
}
