import { sheetColumns } from "../columns/dictionary.ts";
import { readCondition } from "../plan/condition.ts";
import { scoreRisk } from "../plan/risk.ts";
import { readerOf, surveyKeys } from "../plan/score-values.ts";
import { missingNumbers, type NumberColumn, type Table, withColumns } from "../sheet/table.ts";
import { openLaterals } from "./lateral-at.ts";
import type { PreparedBasis } from "./own-columns.ts";
import { emptyPlan } from "./plan-tables.ts";
import { isOfThePlan, type PlannedProgram, rankSheet } from "./planned-program.ts";
import type { ProgramTables } from "./program-tables.ts";
import { withoutSeason } from "./season-place.ts";

/**
 * A planned program under other scores, other columns and filters of its own: the same as planned anew, in a tenth of the time. Of a basis
 * nothing but the ranking is made from `risk` and `recipe`, so where only they are others each lateral is scored again, and its
 * failures, offers and choice stay.
 */
export function rescoreProgram(
  { season, ofSeason: _whole, ...program }: PlannedProgram,
  given: PreparedBasis,
): PlannedProgram {
  const basis = { ...given, fits: program.basis.fits };
  const planned = season?.isFilled === true ? withoutSeason({ ...program, season }, season) : program;
  const problems = program.problems.filter((problem) => !isOfThePlan(problem));
  return { ...program, basis, ...rankSheet(basis, rescoreSheet(planned, basis), problems) };
}

const inTheSheet: ReadonlySet<string> = new Set(sheetColumns.map(({ key }) => key));

/** The laterals of a planned sheet with other scores, before they are ranked. */
export function rescoreSheet(
  { tables, laterals }: Pick<PlannedProgram, "tables" | "laterals">,
  basis: PreparedBasis,
): Table {
  // Columns of the recipe as it was, and what it read of the surveys, are not in the sheet's dictionary.
  const kept = [...laterals.columns].filter(
    ([key]) => tables.laterals.columns.has(key) || inTheSheet.has(key),
  );
  return withColumns({ ...laterals, columns: new Map(kept) }, scoreRows(tables, basis));
}

/** The columns of the scores, and of the leading survey's those that a formula over the sheet reads. */
function scoreRows(tables: ProgramTables, basis: PreparedBasis): ReadonlyMap<string, NumberColumn> {
  const { rows } = tables.laterals;
  const { asOf } = basis.program;
  const { surveyTooOldYears, joinSurveysWithinDays } = basis.treatments.thresholds;
  const [likelihood, consequence, score] = [missingNumbers(rows), missingNumbers(rows), missingNumbers(rows)];
  const planned = emptyPlan(0, basis);
  const surveyed = surveyKeys
    .filter((key) => planned.has(key))
    .map((key) => [key, missingNumbers(rows)] as const);
  const lateralOf = openLaterals(tables);
  for (let row = 0; row < rows; row++) {
    const lateral = lateralOf(row);
    const condition = readCondition(lateral, asOf, surveyTooOldYears, joinSurveysWithinDays);
    const risk = scoreRisk(lateral, condition, basis.risk, basis.assumptions, asOf, basis.scores);
    likelihood.values[row] = risk.likelihood?.value ?? Number.NaN;
    consequence.values[row] = risk.consequence?.value ?? Number.NaN;
    score.values[row] = risk.score ?? Number.NaN;
    if (surveyed.length === 0) continue;
    const known = readerOf(lateral, condition);
    for (const [key, column] of surveyed) column.values[row] = known(key) as number;
  }
  return new Map([["likelihood", likelihood], ["consequence", consequence], ["risk", score], ...surveyed]);
}
