import { lateralColumns } from "../columns/lateral-columns.ts";
import { type ExplainedStage, explainLateral } from "../plan/explain.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import type { ReadValue } from "../plan/recipe.ts";
import { readSeasonRun, seasonRunNames } from "../program/season-runs.ts";
import { seasonOf } from "../program/season-settings.ts";
import { showQuantity } from "../quantity/show-quantity.ts";
import type { Basis } from "../reference/basis.ts";
import { fitProgram } from "../season/fits.ts";
import { lateralAt } from "../season/lateral-at.ts";
import { readPlanned, readSheet } from "../season/read-planned.ts";
import { textAt } from "../sheet/table.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { latestSeason, withCurrentSeason } from "./current-season.ts";
import { explainOwnColumns } from "./explain-own-columns.ts";
import { explainSeason } from "./explain-season.ts";
import { explainedText } from "./explained-text.ts";
import { gatherProgram, loadProgram, sayProblems } from "./load-program.ts";
import { sayColumns, tellsOfOccupants } from "./occupant-columns.ts";
import { sayOwnWords, withoutPermissionDays, withoutSaidDays, withoutWords } from "./occupant-words.ts";
import { withWhatIsAsked } from "./plain-record.ts";
import { shownInLine } from "./shown-text.ts";

/**
 * `wyeplan why FOLDER LATERAL [--json [--with-addresses]]`: every stage of one lateral's plan, with equations and sources. JSON is handed on to
 * other programs, by the rule of all exports: what may tell of occupants is left out unless somebody asks for it.
 */
export async function whyLateral(
  folder: string,
  lateral: string,
  options: { readonly json?: boolean; readonly withAddresses?: boolean },
  io: CommandIo,
): Promise<ExitCode> {
  const gathered = await gatherProgram(folder);
  if (!gathered.ok) {
    sayProblems(gathered.problems, io);
    return EXIT.notDone;
  }
  const { laterals } = gathered.tables;
  let row = -1;
  for (let at = 0; at < laterals.rows && row < 0; at++)
    if (textAt(laterals, "lateral", at) === lateral) row = at;
  if (row < 0) {
    io.err(
      `No lateral ${JSON.stringify(lateral)} in ${gathered.settings.laterals.file}. Ids are text: leading zeros and marks count.\n`,
    );
    return EXIT.notDone;
  }
  const basis = fitProgram(gathered.tables, gathered.basis);
  const isWhole = options.json !== true || options.withAddresses === true;
  const lateralOfRow = lateralAt(gathered.tables, row);
  const planned = planLateral(isWhole ? lateralOfRow : withoutWords(lateralOfRow), basis);
  const seasons = await seasonsOf(folder, lateral);
  // What the season says of a lateral asks for the plan of all; the program's own columns may read it.
  const inSeason = seasons.length === 0 ? null : await seasonOfRow(folder, row);
  const read = inSeason?.read ?? readPlanned(planned, gathered.tables, row, basis);
  const stages = [
    ...explainLateral(planned, basis),
    ...explainOwnColumns(read, basis),
    ...(inSeason?.stages ?? []),
  ];
  if (options.json === true) {
    sayColumns(lateralColumns.filter(tellsOfOccupants), isWhole, io);
    sayOwnWords(isWhole, io);
    const record = { lateral, stages: isWhole ? stages : withoutSaidDays(stages), seasons, record: planned };
    const written = (key: string, value: unknown) =>
      withWhatIsAsked(key, isWhole ? value : withoutPermissionDays(key, value));
    io.out(`${JSON.stringify(record, written, 2)}\n`);
  } else
    io.out(
      `Lateral ${shownInLine(lateral)}

${explainedText(stages, io.columns)}
${seasonsText(seasons, basis)}`,
    );
  return EXIT.done;
}

/** What the season saved last does with the lateral of a row, and when; null where it cannot be said. */
async function seasonOfRow(
  folder: string,
  row: number,
): Promise<{ readonly stages: readonly ExplainedStage[]; readonly read: ReadValue } | null> {
  const loaded = await loadProgram(folder);
  const latest = await latestSeason(folder);
  if (!loaded.ok || latest === null) return null;
  const program = await withCurrentSeason(folder, loaded, null);
  const lateral = textAt(program.laterals, "lateral", row);
  const own = program.season?.dates.visits.filter((visit) => visit.lateral === lateral) ?? [];
  // Worth that is no money has no amount to show.
  const isMoney = seasonOf(loaded.settings)?.objective.infiltrationRemoved === 0;
  return {
    stages: explainSeason(program, row, own, isMoney ? latest.run.prices : undefined),
    read: readSheet(program.laterals, row),
  };
}

/** What a saved season does with a lateral; null leaves it out. */
interface InSeason {
  readonly season: string;
  readonly chosen: { readonly treatment: string; readonly cost: number } | null;
}

/** Saved seasons that cannot be read are not listed: wyeplan season --against says why. */
async function seasonsOf(folder: string, lateral: string): Promise<readonly InSeason[]> {
  const found: InSeason[] = [];
  for (const season of await seasonRunNames(folder)) {
    const reading = await readSeasonRun(folder, season);
    if (!reading.ok) continue;
    const own = reading.run.chosen.find((each) => each.lateral === lateral);
    found.push({ season, chosen: own === undefined ? null : { treatment: own.treatment, cost: own.cost } });
  }
  return found;
}

function seasonsText(seasons: readonly InSeason[], { program }: Pick<Basis, "program">): string {
  if (seasons.length === 0) return "";
  const lines = seasons.map(({ season, chosen }) =>
    chosen === null
      ? `  ${season}: out`
      : `  ${season}: in, ${chosen.treatment}, ${showQuantity(chosen.cost, "money", program)}`,
  );
  return `\nSaved seasons (why in or out: wyeplan season FOLDER --why ID)\n${lines.join("\n")}\n`;
}
