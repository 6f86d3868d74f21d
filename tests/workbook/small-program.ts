import { bookContents } from "../../src/commands/write-workbook.ts";
import { METRES_PER_FOOT, MILLIMETRES_PER_INCH } from "../../src/quantity/factors.ts";
import type { UnitSystem } from "../../src/quantity/measure.ts";
import type { Problem } from "../../src/quantity/problem.ts";
import { cents } from "../../src/quantity/si.ts";
import type { PreparedBasis } from "../../src/season/own-columns.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import { GrowingText } from "../../src/sheet/grow.ts";
import { withColumns } from "../../src/sheet/table.ts";
import type { BookContents } from "../../src/workbook/book-contents.ts";
import { siBasis, usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, type Row, surveyRow } from "../season/examples.ts";

/** Words that stand only where no bidder may read them; the tests look for them in the finished files. */
export const SECRETS = {
  priceSource: "Invented prices, sentinel-price-source",
  otherColumn: "sentinel-tenant-name",
  decisionReason: "sentinel-decision-reason",
  problem: "sentinel-problem-found",
} as const;

/** Prices with odd cents, so that half cents come up in the extensions. Invented. */
const prices: PreparedBasis["prices"] = {
  mobilization: cents(1_234_567),
  "camera inspection": cents(35_711),
  "root cutting | 4 in": cents(1_213),
  "root cutting": cents(1_450),
  "sectional liner": cents(221_939),
  "full-length liner | 4 in": cents(418_877),
  "full-length liner": cents(467_803),
  "additional liner length": cents(7_050),
  "connection liner": cents(309_991),
  "new cleanout": cents(181_213),
  "open-cut replacement": cents(26_117),
  "surface restoration": cents(1_875),
};

const streets = ["Alder", "Birch", "Cedar", "Dogwood", "Elm"] as const;
const districts = ["LS-14", "Mill Creek", "North Basin", ""] as const;

interface Wanted {
  readonly lateral: Row;
  readonly survey: Row | null;
}

/** One lateral after another through the cases a program has: every treatment, missing values, sizes, surfaces. */
function wanted(i: number): Wanted {
  const id = String(401 + i * 7).padStart(5, "0");
  const common = {
    district: districts[i % 9 === 8 ? 3 : i % 3]!,
    location: `${100 + 3 * i} ${streets[i % streets.length]} Street`,
    host_length: (28.37 + ((i * 13) % 47)) * METRES_PER_FOOT,
    host_diameter: (i % 4 === 3 ? 6 : 4) * MILLIMETRES_PER_INCH,
    surface: ["street", "yard", "driveway", "alley", "sidewalk"][i % 5]!,
    building: ["house", "house", "apartments", "school", "restaurant"][i % 5]!,
    cleanout: i % 3 === 0 ? 0 : 1,
    install_year: 1931 + ((i * 11) % 60),
    backups: i % 6 === 0 ? 2 : 0,
  };
  const row = (differs: Row = {}) => lateralRow(id, { ...common, ...differs });
  switch (i % 8) {
    case 0:
      return { lateral: row(), survey: surveyRow(id, 4, 2, { structural_quick: "4231" }) };
    case 1:
      return { lateral: row(), survey: surveyRow(id, 2, 4) };
    case 2:
      return { lateral: row(), survey: surveyRow(id, 4, 1, { structural_quick: "4121" }) };
    case 3:
      return { lateral: row(), survey: surveyRow(id, 2, 1, { connection_grade: 4 }) };
    case 4:
      // Nothing known but where it is.
      return {
        lateral: {
          lateral: id,
          district: common.district,
          location: common.location,
          host_length: common.host_length,
        },
        survey: null,
      };
    case 5:
      // Nobody bursts such a host, so it is dug up.
      return {
        lateral: row({ host_diameter: 260, host_material: "asbestos cement" }),
        survey: surveyRow(id, 5, 3),
      };
    case 6:
      return { lateral: row(), survey: surveyRow(id, 1, 0) };
    default:
      return {
        lateral: row({ cross_bore: i % 16 === 7 ? "not cleared" : "cleared", cover_main: 3.1 }),
        survey: surveyRow(id, 5, 3, { structural_quick: "5242", ovality: 0.031 }),
      };
  }
}

const problems: readonly Problem[] = [
  {
    severity: "rejected",
    file: "laterals.csv",
    row: 18,
    column: "DIAM",
    found: SECRETS.problem,
    expected: "2 to 16 in",
    remedy: "Measure it.",
  },
  {
    severity: "noted",
    file: "surveys.csv",
    row: 40,
    column: null,
    found: "",
    expected: "a lateral of laterals.csv",
    remedy: "The survey is not used.",
  },
];

/** A small invented program, planned by the real engine. `more` adds laterals of a test's own. */
export function smallProgram(
  units: UnitSystem = "us",
  more: readonly Row[] = [],
  laterals = 40,
  change: (basis: PreparedBasis) => PreparedBasis = (basis) => basis,
): PlannedProgram {
  const list = Array.from({ length: laterals }, (_, i) => wanted(i));
  const rows = [...list.map(({ lateral }) => lateral), ...more];
  const surveys = list.flatMap(({ survey }) => (survey === null ? [] : [survey]));
  const other = new GrowingText();
  for (const _ of rows) other.push(SECRETS.otherColumn);
  const tables = programTables(rows, surveys);
  const house: PreparedBasis = units === "us" ? usBasis : siBasis;
  const name = "Quennock Sample & Test";
  return planProgram(
    {
      ...tables,
      laterals: withColumns(tables.laterals, [["other:TENANT", other.finish()]]),
      decisions: new Map([
        [
          String(rows[0]?.["lateral"]),
          new Map([["host_diameter", { value: 152.4, reason: SECRETS.decisionReason }]]),
        ],
      ]),
    },
    change({
      ...house,
      program: { ...house.program, name },
      prices,
      priceSource: SECRETS.priceSource,
    }),
    {
      problems,
      tallies: [
        { file: "laterals.csv", read: rows.length + 3, kept: rows.length, duplicates: 1, rejected: 2 },
        { file: "surveys.csv", read: surveys.length + 1, kept: surveys.length, duplicates: 0, rejected: 1 },
      ],
    },
  );
}

export const smallContents = (...wanted: Parameters<typeof smallProgram>): BookContents =>
  bookContents(smallProgram(...wanted));

/** Rows a sheet at which the lists of the small program take several sheets each. */
export const FEW_ROWS = 24;

/** The same program with its long lists in parts. */
export const inManyParts = (units: UnitSystem): BookContents => bookContents(smallProgram(units), FEW_ROWS);
