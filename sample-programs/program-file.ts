import type { CityForm, Heading } from "./city-form.ts";
import type { City } from "./city-model.ts";
import { moneyCriteria } from "./invented-money.ts";
import { seasonCalendar } from "./season-calendar.ts";
import { siWords } from "./si-form.ts";
import { unitPrices } from "./unit-prices.ts";
import { usWords } from "./us-form.ts";

/** The last survey season ends in October 2025; the plan is made for the season of 2026. */
const AS_OF = "2026-03-01";

const criteria = {
  us: { design: "HS-20, water at surface", liner_system: "felt, polyester" },
  si: {
    design: "H-20, thicker minimum",
    liner_system: "felt, epoxy",
    // One of the two samples has a crew that brings one-piece liners.
    liner_systems: { "one-piece": "one-piece, felt, polyester" },
  },
} as const;

/** Columns and filters somebody may want beside the usual ones; the scores stay the usual ones. */
const recipes = {
  us: {
    columns: { age: { formula: "year_of(as_of) - install_year", heading: "Age" } },
    filters: {
      "old clay": 'host_material == "clay" and age > 70',
      "backed up": "backups > 0",
      "no cleanout": "not cleanout",
    },
  },
  si: { filters: { "under a street": 'surface == "street"' } },
} as const;

/** Invented for the demonstration: about half the money the plans of the samples would cost. */
const season = {
  us: {
    budget: 350_000,
    reserve: "10 %",
    objective: "loss avoided",
    crew_days: { preparation: 30, lining: 35, dig: 6 },
    districts: { "LS-11": { least_laterals: 8 } },
    mobilization_per_district: 4_000,
  },
  si: {
    budget: 180_000,
    reserve: "5 %",
    objective: "infiltration removed",
    crew_days: { lining: 40, dig: 6 },
    mobilization_per_district: 2_500,
  },
} as const;

/**
 * program.json of a generated city: what a person would have settled when making the program. Clean files use the
 * program's own words and one spelling of each district, so they need neither words nor aliases.
 */
export function programFile(city: City, form: CityForm, name: string, plain: boolean): string {
  const { style, districts } = city.spec;
  const { delimiter, encoding, decimalMark, dateOrder } = form.file;
  const file = { delimiter, encoding, decimal_mark: decimalMark, date_order: dateOrder };
  const program = {
    schema: 1,
    name,
    as_of: AS_OF,
    units: style,
    currency: style === "us" ? "USD" : "EUR",
    laterals: { file: "laterals.csv", ...file, columns: columnsOf(form.laterals.headings) },
    inspections: {
      file: "inspections.csv",
      ...file,
      columns: columnsOf(form.inspections.headings),
      worst_grade: form.worstGrade,
    },
    ...(plain || form.observations === null
      ? {}
      : {
          observations: {
            file: "observations.csv",
            ...file,
            columns: columnsOf(form.observations.headings),
            worst_grade: form.worstGrade,
            kinds: form.observations.kinds,
          },
        }),
    coordinates: { system: city.spec.grid },
    ...(plain
      ? {}
      : {
          district_aliases: Object.fromEntries(
            districts.map((district) => [district.name, district.aliases]),
          ),
          words: style === "us" ? usWords : siWords,
        }),
    criteria: { ...criteria[style], ...moneyCriteria(style, city) },
    ...(plain ? {} : { recipe: recipes[style] }),
    // The district named is one of the sample's.
    ...(plain ? {} : { season: { ...season[style], calendar: seasonCalendar[style] } }),
    unit_prices: unitPrices[style],
  };
  return `${JSON.stringify(program, null, 2)}\n`;
}

function columnsOf<Key extends string>(headings: readonly Heading<Key>[]) {
  const columns: Record<string, { heading: string; unit?: string }> = {};
  for (const { heading, key, unit } of headings) {
    if (key !== undefined) columns[key] = unit === undefined ? { heading } : { heading, unit };
  }
  return columns;
}
