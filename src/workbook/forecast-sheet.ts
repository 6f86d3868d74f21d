import { shareCells } from "../pictures/grade-bars.ts";
import { grouped, showCount } from "../quantity/show-quantity.ts";
import type { Forecast, ForecastYear } from "../season/forecast.ts";
import type { BookContents } from "./book-contents.ts";
import { decimalsFormat } from "./number-format.ts";
import type { Row, SheetModel } from "./sheet-model.ts";

/** Letters of a bar; each is a share of all laterals and the digit of its grade. */
const BAR = 50;
const GRADES = [0, 1, 2, 3, 4, 5] as const;
const TENTHS = decimalsFormat(1);

/** Expected number of laterals per grade, year by year, left alone and under the plan. */
export function forecastSheet({ picture, program }: BookContents): SheetModel {
  const { doNothing, asPlanned, renewed, counted, notGraded } = picture.forecast;
  const { verdict } = doNothing;
  const { renewal, chosen } = program.basis.deterioration;
  const notes = [
    "For totals and backlog only. Published evidence: such a chain is no better than chance for a single pipe. 0 is without a defect.",
    `± is one standard deviation if the laterals wear each for itself; neighbours do not quite, so it is too small. Chain: ${chosen}.`,
    `Under the plan ${showCount(renewed)} laterals are treated in year 1 and count as ${grouped(counted, 1)} renewed. A section counts as a share of a pipe (${renewal.source.document}, see Basis: deterioration, renewal).`,
    `${showCount(notGraded)} lateral(s) without a grade are spread over the grades by their cohort.`,
    ...(verdict.kind === "usable"
      ? []
      : [
          `WARNING: the chain takes ${Math.round(verdict.yearsToWorst)} years from grade 1 to 5, more than ${verdict.limit}: it is of no use for planning.`,
        ]),
  ];
  return {
    name: "Forecast",
    title: "Forecast of grades for twenty years",
    notes,
    columns: [
      { heading: "Future", width: 14 },
      { heading: "Year", width: 6, format: "0" },
      ...GRADES.flatMap((grade) => [
        { heading: grade === 0 ? "No defect" : `Grade ${grade}`, width: 10, format: TENTHS },
        { heading: `± ${grade}`, width: 7, format: TENTHS },
      ]),
      { heading: "Grade 4 or 5", width: 10, format: TENTHS },
      { heading: "Picture: a letter is a share of all laterals, its digit the grade", width: BAR + 6 },
    ],
    rows: [...rowsOfFuture("left alone", doNothing), ...rowsOfFuture("as planned", asPlanned)],
    frozenColumns: 2,
    pagesWide: 2,
    locked: false,
  };
}

const rowsOfFuture = (future: string, { years }: Forecast): readonly Row[] =>
  years.map((year) => [future, year.year, ...numbersOf(year), barOf(year)]);

const numbersOf = ({ expected, spread }: ForecastYear): readonly number[] => [
  ...GRADES.flatMap((grade) => [expected[grade]!, spread[grade]!]),
  expected[4]! + expected[5]!,
];

const barOf = ({ expected }: ForecastYear): string =>
  shareCells(expected, BAR)
    .map((cells, grade) => String(grade).repeat(cells))
    .join("");
