import { type SeasonReason, seasonKeys, seasonReasons, treatmentKinds } from "../columns/plan-columns.ts";
import { rowOfEach } from "../sheet/row-of-each.ts";
import { missingNumbers, missingWords, textAt, withColumns } from "../sheet/table.ts";
import { applyFilters, fillOwnColumns } from "./own-columns.ts";
import type { PlannedProgram, SeasonPlace } from "./planned-program.ts";
import { planSeason } from "./season-calendar.ts";
import { type ChosenLateral, programOfSeason } from "./season-program.ts";
import type { SavedWork } from "./selection/held-laterals.ts";
import { heldReasons, isVisitOver, type Standing, standingAt } from "./tracking.ts";
import { datedVisits, firstVisits, noVisits, type VisitDates } from "./visit-dates.ts";

/** What a saved season says of the laterals. */
export interface SavedPlaces {
  readonly name: string;
  readonly chosen: readonly ChosenLateral[];
  /** By id of the lateral; none in a file that does not say. */
  readonly reasons: ReadonlyMap<string, SeasonReason>;
  /** Where the work stood when it was selected. */
  readonly soFar?: readonly SavedWork[];
}

/**
 * The program with the columns of a saved season, which must be of this very plan. A lateral refused since is not in any more; its place in
 * the calendar stays, so that the days of the others do not move.
 */
export function withSeason(
  whole: PlannedProgram,
  saved: SavedPlaces,
  place: Omit<SeasonPlace, "dates">,
): PlannedProgram {
  const { laterals } = whole;
  const { rows } = laterals;
  const chosen = new Map(saved.chosen.map(({ lateral, treatment }) => [lateral, treatment]));
  const dates = datesOf(whole, saved);
  const first = firstVisits(dates.visits);
  const rowOf = rowOfEach(laterals, "lateral");
  const toCome = firstVisits(
    dates.visits.filter(({ lateral, crew }) => !isVisitOver(laterals, rowOf.get(lateral)!, crew)),
  );
  const inSeason = missingNumbers(rows);
  const names = missingWords(rows, [saved.name]);
  const treatments = missingWords(rows, treatmentKinds);
  const reasons = missingWords(rows, seasonReasons);
  const visited = missingNumbers(rows);
  const notice = missingNumbers(rows);
  for (let row = 0; row < rows; row++) {
    const id = textAt(laterals, "lateral", row);
    const treatment = chosen.get(id);
    const standing = standingAt(laterals, row);
    const isIn = treatment !== undefined && standing !== "refused" && standing !== "held back";
    inSeason.values[row] = isIn ? 1 : 0;
    names.codes[row] = 1;
    reasons.codes[row] = codeOf(seasonReasons, reasonNow(standing, isIn, saved.reasons.get(id)));
    if (!isIn) continue;
    treatments.codes[row] = codeOf(treatmentKinds, treatment);
    const visit = (standing === "done" ? first : toCome).get(id);
    if (visit === undefined) continue;
    visited.values[row] = visit.on;
    // Nobody has to be told of what is done.
    if (standing !== "done") notice.values[row] = visit.noticeBy;
  }
  const filled = [inSeason, names, treatments, reasons, visited, notice];
  return withColumnsOf(
    whole,
    { ...place, dates },
    withColumns(
      laterals,
      seasonKeys.map((key, i) => [key, filled[i]!] as const),
    ),
  );
}

/** The program that says why its season columns are empty. */
export const withoutSeason = (whole: PlannedProgram, said: Omit<SeasonPlace, "dates">): PlannedProgram => {
  const place = { ...said, dates: noVisits };
  const { rows } = whole.laterals;
  const empty = seasonKeys.map(
    (key) =>
      [
        key,
        ["in_season", "season_visit", "notice_by"].includes(key)
          ? missingNumbers(rows)
          : missingWords(rows, []),
      ] as const,
  );
  return whole.season?.isFilled === true
    ? withColumnsOf(whole, place, withColumns(whole.laterals, empty))
    : { ...whole, season: place };
};

const shownInSeason: ReadonlySet<string> = new Set([
  "in_season",
  "season_reason",
  "season_visit",
  "notice_by",
]);

/** The program's own columns and filters may read those of the season. */
function withColumnsOf(
  whole: PlannedProgram,
  season: SeasonPlace,
  laterals: PlannedProgram["laterals"],
): PlannedProgram {
  const full = fillOwnColumns(laterals, whole.basis.ownColumns);
  // Who carries a season out looks at its columns first.
  const columns = whole.columns.map((column) => {
    if (!shownInSeason.has(column.key)) return column;
    const { shownAtFirst: _hidden, ...rest } = column;
    return season.isFilled ? { ...rest, shownAtFirst: true as const } : rest;
  });
  return { ...whole, laterals: full, columns, filters: applyFilters(full, whole.basis.filters), season };
}

/** What a status says overrules what the season was solved with. */
function reasonNow(
  standing: Standing,
  isIn: boolean,
  reason: SeasonReason | undefined,
): SeasonReason | undefined {
  if (standing === "refused" || standing === "held back") return heldReasons[standing];
  return standing === "done" && !isIn ? "done already" : reason;
}

/** Code of a word of a list; 0, missing, for none. */
const codeOf = (words: readonly string[], word: string | undefined): number =>
  word === undefined ? 0 : words.indexOf(word) + 1;

/** The days of a saved season's visits; none without a calendar. */
function datesOf(whole: PlannedProgram, { name, chosen, soFar }: SavedPlaces): VisitDates {
  if (whole.basis.calendar === null) return noVisits;
  const { program } = programOfSeason(whole, name, chosen, soFar);
  const plan = planSeason(program);
  return plan === null ? noVisits : datedVisits(program, plan);
}
