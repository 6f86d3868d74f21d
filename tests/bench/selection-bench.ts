import { loadavg } from "node:os";
import { plainTable } from "../../src/commands/plain-table.ts";
import type { LinearSolver } from "../../src/season/selection/linear-solver.ts";
import { type PackedSelection, selectPacked } from "../../src/season/selection/select-packed.ts";
import { type Selection, selectSeason } from "../../src/season/selection/select-season.ts";
import { loadSolver } from "../../src/workers/highs-solver.ts";
import { inventPackedSeason } from "./selection-case.ts";

type Selected = Selection | PackedSelection;
type Case = ReturnType<typeof inventPackedSeason>;

/** Times the selection of invented seasons with three offers a lateral to a gap of a thousandth, crew time counted in minutes. */
export const benchSelection = (sizes: readonly number[]): Promise<string> =>
  timeSelections(
    "Selection, crew time counted: three offers a lateral, 20 districts to open, three crews, money for a fifth",
    sizes,
    ({ problem }, solver) => selectSeason(problem, solver),
  );

/** The same seasons packed into whole days of their crews, ways by coordinates, a day of mobilisation a crew and district. */
export const benchPacked = (sizes: readonly number[]): Promise<string> =>
  timeSelections("Selection, packed into days: the same seasons", sizes, ({ problem, packed }, solver) =>
    selectPacked(problem, packed, solver),
  );

/** One thread. Processor seconds are of all threads: those of the solver's start and of the collector are in them. */
async function timeSelections(
  title: string,
  sizes: readonly number[],
  select: (given: Case, solver: LinearSolver) => Selected,
): Promise<string> {
  const solver = await loadSolver();
  selectSeason(inventPackedSeason(500, 1).problem, solver);
  const rows = sizes.map((laterals) => {
    const given = inventPackedSeason(laterals, 1);
    const load = loadavg()[0]!.toFixed(1);
    const before = process.cpuUsage();
    const started = performance.now();
    const found = select(given, solver);
    const seconds = (performance.now() - started) / 1000;
    const { user, system } = process.cpuUsage(before);
    return [
      laterals.toLocaleString("en-US"),
      seconds.toFixed(1),
      ((user + system) / 1e6).toFixed(1),
      found.ok ? `${(found.gap * 100).toFixed(4)} %` : found.why,
      found.ok ? found.ended : "",
      String(Math.round(process.resourceUsage().maxRSS / 1024)),
      load,
    ];
  });
  const right = (heading: string) => ({ heading, align: "right" as const });
  const columns = ["laterals", "seconds", "processor s", "gap", "ended", "peak MB", "load"].map(right);
  return `${title}\n${plainTable(columns, rows)}`;
}
