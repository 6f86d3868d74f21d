import { crewKinds } from "../columns/plan-columns.ts";
import { isoDate } from "../quantity/calendar.ts";
import { crewDayParts } from "../quantity/crew-days.ts";
import { isNumeric, isQuantity, quantities } from "../quantity/measure.ts";
import { describeProblem } from "../quantity/problem.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import { type Breakdown, breakDown } from "../season/breakdown.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { Totals } from "../season/totals.ts";
import { numberAt, textAt } from "../sheet/table.ts";

/** The plan for other programs: SI units throughout, money in whole cents, missing as null. */
export function planAsJson(program: PlannedProgram): unknown {
  const { laterals, columns, order, totals, basis, tallies, problems } = program;
  const { name, asOf, units, currency } = basis.program;
  return {
    program: { name, as_of: isoDate(asOf), units_shown: units, currency, price_source: basis.priceSource },
    units:
      "SI: diameters and walls in mm, lengths in m, resin in L, masses of batches in whole g, times in min, dates in days since 1970-01-01, money in cents",
    // Totals are whole numbers, so that districts add up to the program exactly.
    units_of_totals: `bidLines and linerLengthByDiameter in hundredths of the bid's own unit (lengths in ${unitLabel("length", basis.program)}), infiltration in µL/s, resin in mL, crew time in min and crew-days in hundredths, each sum rounded once, money in cents; linersByWall by the wall in the lateral, mm`,
    ...(basis.ownColumns.length + program.filters.length === 0 ? {} : ownAsJson(program)),
    ...(program.season === undefined
      ? {}
      : {
          season_columns: {
            season: program.season.name || null,
            filled: program.season.isFilled,
            said: program.season.said,
          },
        }),
    rows: tallies,
    totals: {
      ...totalsAsJson(totals.program),
      ...crewDaysAsJson([totals.program], basis.steps.shiftMinutes)[0],
    },
    districts: districtsAsJson(totals.districts, basis.steps.shiftMinutes),
    ...breakdownAsJson(program),
    batches: program.batches,
    laterals: Array.from(order, (row) =>
      Object.fromEntries(
        columns.map(({ key, measure }) => {
          if (!isNumeric(measure)) return [key, textAt(laterals, key, row) || null];
          const value = numberAt(laterals, key, row);
          return [key, Number.isNaN(value) ? null : value];
        }),
      ),
    ),
    problems: problems.map((problem) => ({ ...problem, message: describeProblem(problem) })),
  };
}

function districtsAsJson(districts: readonly Totals[], shiftMinutes: number) {
  const days = crewDaysAsJson(districts, shiftMinutes);
  return districts.map((of, d) => ({ ...totalsAsJson(of), ...days[d] }));
}

/** Crew-days of each, by crew too, as parts of those of all of them. */
function crewDaysAsJson(all: readonly Totals[], shiftMinutes: number) {
  const parts = (of: (totals: Totals) => number) => crewDayParts(all.map(of), shiftMinutes);
  const whole = parts(({ crewMinutes }) => crewMinutes);
  const byCrew = crewKinds.map(
    (crew) => [crew, parts(({ crewMinutesByCrew }) => crewMinutesByCrew[crew])] as const,
  );
  return all.map((_, i) => ({
    crewDayHundredths: whole[i]!,
    crewDayHundredthsByCrew: Object.fromEntries(byCrew.map(([crew, days]) => [crew, days[i]!])),
  }));
}

const totalsAsJson = (of: Totals) => ({
  ...of,
  linerLengthByDiameter: Object.fromEntries(of.linerLengthByDiameter),
  linersByWall: Object.fromEntries(of.linersByWall),
  bidLines: Object.fromEntries(of.bidLines),
});

function breakdownAsJson(program: PlannedProgram) {
  const { districts, program: all } = breakDown(program);
  const asJson = ({ costByItem, ...of }: Breakdown) => ({
    ...of,
    costByItem: Object.fromEntries(costByItem),
  });
  return { breakdown: asJson(all), breakdown_by_district: districts.map(asJson) };
}

/** What the numbers of the program's own columns are, and how many laterals each filter keeps. */
const ownAsJson = ({ basis, filters }: PlannedProgram) => ({
  own_columns: basis.ownColumns.map(({ column, text }) => ({
    key: column.key,
    formula: text,
    unit: isQuantity(column.measure) ? quantities[column.measure].stored : null,
  })),
  filters: filters.map(({ name, text, count }) => ({ name, formula: text, laterals: count })),
});
