import type { LateralKey } from "../columns/lateral-columns.ts";
import type { planColumns } from "../columns/plan-columns.ts";
import type { Condition } from "./condition.ts";
import type { Given, Lateral } from "./lateral.ts";
import type { ReadValue } from "./recipe.ts";
import { exactly } from "./survey-ratings.ts";

type Value = number | string;

const number = (given: Given<number> | null): number => given?.value ?? Number.NaN;
const flag = (value: boolean | null | undefined): number =>
  value === null || value === undefined ? Number.NaN : Number(value);
const word = (given: Given<string>): string => given?.value ?? "";

/** What the city gives, decisions in place. The coordinates are no part of a lateral's record. */
const given: Readonly<Record<Exclude<LateralKey, "x" | "y">, (lateral: Lateral) => Value>> = {
  lateral: ({ id }) => id,
  district: ({ district }) => district,
  location: ({ location }) => location,
  host_diameter: ({ hostDiameter }) => number(hostDiameter),
  host_length: ({ hostLength }) => number(hostLength),
  host_material: ({ hostMaterial }) => word(hostMaterial),
  install_year: ({ installYear }) => number(installYear),
  cover_main: ({ coverAtMain }) => number(coverAtMain),
  cover_house: ({ coverAtHouse }) => number(coverAtHouse),
  water_table_depth: ({ waterTableDepth }) => number(waterTableDepth),
  surface: ({ surface }) => word(surface),
  main_diameter: ({ mainDiameter }) => number(mainDiameter),
  cleanout: ({ cleanout }) => flag(cleanout?.value),
  cross_bore: ({ crossBore }) => word(crossBore),
  building: ({ building }) => word(building),
  backups: ({ backups }) => number(backups),
  bends: ({ bends }) => number(bends),
  sharpest_bend: ({ sharpestBend }) => number(sharpestBend),
  size_change: ({ sizeChange }) => number(sizeChange),
  branches: ({ branches }) => number(branches),
  slope: ({ slope }) => number(slope),
  fixture_units: ({ fixtureUnits }) => number(fixtureUnits),
  effluent: ({ effluent }) => word(effluent),
  effluent_temperature: ({ effluentTemperature }) => number(effluentTemperature),
  main_lining: ({ mainLining }) => word(mainLining),
  access: ({ access }) => word(access),
  lower_length: ({ lowerLength }) => number(lowerLength),
  upper_length: ({ upperLength }) => number(upperLength),
  lower_owner: ({ lowerOwner }) => word(lowerOwner),
  upper_owner: ({ upperOwner }) => word(upperOwner),
  city_share: ({ cityShare }) => number(cityShare),
  property_line_cleanout: ({ propertyLineCleanout }) => flag(propertyLineCleanout?.value),
  permission_signed: ({ permissionSigned }) => number(permissionSigned),
  permission_expires: ({ permissionExpires }) => number(permissionExpires),
};

type ConditionKey = Extract<(typeof planColumns)[number], { readonly stage: "condition" }>["key"];

const found: Readonly<Record<ConditionKey, (condition: Condition) => Value>> = {
  condition_state: ({ state }) => state,
  structural_grade: ({ structural }) => number(structural),
  om_grade: ({ om }) => number(om),
  inspection_age: ({ ageYears }) => ageYears ?? Number.NaN,
  reinspect: ({ reinspect }) => flag(reinspect.length > 0),
  pipe_rating: ({ pipeRating }) => exactly(pipeRating?.rating ?? null) ?? Number.NaN,
  pipe_rating_index: ({ pipeRating }) => exactly(pipeRating?.index ?? null) ?? Number.NaN,
  structural_defects_least: ({ defects }) => defects?.least ?? Number.NaN,
  structural_defects_most: ({ defects }) =>
    defects === null || !Number.isFinite(defects.most) ? Number.NaN : defects.most,
};

/** What the leading survey says, where the sheet has no column of its own for it. */
const surveyed = {
  inspected_on: ({ leading }) => leading?.on ?? Number.NaN,
  connection_grade: ({ connection }) => number(connection),
  surveyed_length: ({ leading }) => leading?.surveyedLength ?? Number.NaN,
  survey_complete: ({ leading }) => flag(leading?.complete),
  ovality: ({ ovality }) => number(ovality),
} as const satisfies Readonly<Record<string, (condition: Condition) => number>>;
export type SurveyKey = keyof typeof surveyed;

/** Columns of the inspections that formulas may name: values of the leading survey, the worse grade and ovality kept. */
export const surveyKeys = Object.keys(surveyed) as readonly SurveyKey[];

/** Columns that the formulas for likelihood and consequence may name. */
export const scoreKeys: ReadonlySet<string> = new Set([
  ...Object.keys(given),
  ...Object.keys(found),
  ...surveyKeys,
]);

/** A reader of a column that the surveys say; null for any other name. */
export const conditionReader = (key: string): ((condition: Condition) => Value) | null =>
  found[key as ConditionKey] ?? surveyed[key as SurveyKey] ?? null;

/** A reader of a column that the city gives; null for any other name. */
export const cityReader = (key: string): ((lateral: Lateral) => Value) | null =>
  given[key as keyof typeof given] ?? null;

/** A reader of one column; null for a name that is none known before the risk. */
export function valueReader(key: string): ((lateral: Lateral, condition: Condition) => Value) | null {
  const ofCondition = conditionReader(key);
  if (ofCondition !== null) return (_, condition) => ofCondition(condition);
  return cityReader(key);
}

/** Reads what is known of a lateral before its risk. */
export const readerOf =
  (lateral: Lateral, condition: Condition): ReadValue =>
  (key) => {
    const read = valueReader(key);
    if (read !== null) return read(lateral, condition);
    throw new RangeError(
      `readerOf: a score reads ${JSON.stringify(key)}, which is not known before the risk`,
    );
  };
