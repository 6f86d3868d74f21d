import type { BlockagesSeen } from "../../src/cohort/blockage-cohorts.ts";
import { compileRules } from "../../src/commands/compile-rules.ts";
import {
  type Given,
  type Inspection,
  type Lateral,
  notTracked,
  type Observation,
} from "../../src/plan/lateral.ts";
import { usualScores } from "../../src/plan/recipe.ts";
import { bindRules } from "../../src/plan/rules.ts";
import { stated } from "../../src/plan/stated.ts";
import { dayFromIso } from "../../src/quantity/calendar.ts";
import {
  type Cents,
  cents,
  type Day,
  type Metres,
  type Millimetres,
  metres,
  millimetres,
} from "../../src/quantity/si.ts";
import { convert } from "../../src/quantity/units.ts";
import { houseAssumptions } from "../../src/reference/assumptions.ts";
import type { ChosenLiner, ProgramHead } from "../../src/reference/basis.ts";
import { houseBidItems } from "../../src/reference/bid-items.ts";
import { houseCures } from "../../src/reference/cure-methods.ts";
import { designCriteriaSets, houseSurfaceWheels } from "../../src/reference/design-criteria.ts";
import { houseDesignLife } from "../../src/reference/design-life.ts";
import { houseDeterioration } from "../../src/reference/deterioration.ts";
import { houseDrainFlow } from "../../src/reference/drain-flow.ts";
import { houseEffluents } from "../../src/reference/effluents.ts";
import { houseFailureCosts } from "../../src/reference/failure-costs.ts";
import { houseFailureModes } from "../../src/reference/failure-modes.ts";
import { houseHosts } from "../../src/reference/hosts.ts";
import { linerSystems, type PlacingMethod } from "../../src/reference/liner-systems.ts";
import { liveLoads } from "../../src/reference/live-loads.ts";
import { houseMaterials } from "../../src/reference/materials.ts";
import { housePlacing, placingNamed } from "../../src/reference/placing-methods.ts";
import { houseRankSpreads } from "../../src/reference/rank-spreads.ts";
import { noRecipe } from "../../src/reference/recipe.ts";
import { housePotLifeMargin, resins } from "../../src/reference/resins.ts";
import { houseRiskTables } from "../../src/reference/risk-tables.ts";
import { houseRules } from "../../src/reference/rule-table.ts";
import { houseSeasonDays } from "../../src/reference/season-days.ts";
import { standardScopes } from "../../src/reference/standard-scopes.ts";
import { houseTreatmentEffects } from "../../src/reference/treatment-effects.ts";
import { houseTreatmentRules } from "../../src/reference/treatment-rules.ts";
import { houseUncertainty } from "../../src/reference/uncertainty.ts";
import { houseWetOutRules } from "../../src/reference/wet-out-rules.ts";
import { houseWorkSteps } from "../../src/reference/work-steps.ts";
import { type FittedBasis, fitRecord } from "../../src/season/fits.ts";
import type { PreparedBasis } from "../../src/season/own-columns.ts";

/** A day that must exist. */
export function on(iso: string): Day {
  const found = dayFromIso(iso);
  if (found === null) throw new RangeError(`no such day: ${iso}`);
  return found;
}

export const city = <T>(value: T): Given<T> => stated(value, "city");
export const feet = (n: number): Given<Metres> => city(metres(convert(n, "ft", "m")));
export const inches = (n: number): Given<Millimetres> => city(millimetres(convert(n, "in", "mm")));

/** Invented unit prices, in whole cents, for tests only. */
const prices: Readonly<Record<string, Cents>> = {
  "camera inspection": cents(35_000),
  "root cutting": cents(1_200),
  "sectional liner": cents(220_000),
  "full-length liner": cents(420_000),
  "additional liner length": cents(7_050),
  "connection liner": cents(310_000),
  "new cleanout": cents(180_000),
  "open-cut replacement": cents(26_000),
  "surface restoration": cents(1_875),
  "joint grouting": cents(3_500),
  "pipe bursting": cents(18_000),
  "grouting of running infiltration": cents(60_000),
  reinstatement: cents(35_000),
  "one-piece liner": cents(680_000),
  "additional one-piece length": cents(9_150),
};

/** A system of the table with its resin, its first cure and a way of placing it. */
export function chosenLiner(key: string, placing: PlacingMethod): ChosenLiner {
  const system = linerSystems.find((candidate) => candidate.key === key);
  const resin = resins.find((candidate) => candidate.key === system?.resin);
  const cure = houseCures.find((candidate) => candidate.key === system?.cures[0]);
  if (system === undefined || resin === undefined || cure === undefined)
    throw new RangeError(`chosenLiner: no system ${key} with its resin and cure`);
  return { system, resin, cure, placing: placingNamed(housePlacing, placing) };
}

/** A census of one graded lateral, so that the mean chance of leaking is that of grade 3. */
const oneLateral = { grade: 3, whole: true, material: "clay", age: 60, laterals: 1, diameterLength: 1000 };

/** A city that kept no record of blockages. */
export const noBlockages: BlockagesSeen = {
  materials: [],
  material: new Uint8Array(0),
  events: new Float64Array(0),
  expected: new Float64Array(0),
};

const head: ProgramHead = {
  name: "Test program",
  asOf: on("2026-03-01"),
  units: "us",
  currency: "USD",
  print: { paper: "letter", dates: "ISO" },
};

const unfitted: PreparedBasis = {
  program: head,
  assumptions: houseAssumptions,
  risk: houseRiskTables,
  recipe: noRecipe,
  failureModes: houseFailureModes,
  failureCosts: houseFailureCosts,
  deterioration: houseDeterioration,
  rankSpreads: houseRankSpreads,
  uncertainty: houseUncertainty,
  sewersheds: {},
  treatments: houseTreatmentRules,
  effects: houseTreatmentEffects,
  rules: houseRules,
  criteria: designCriteriaSets[0]!,
  surfaceWheels: houseSurfaceWheels,
  liveLoads,
  liners: {
    "full-length": chosenLiner("felt, polyester", "inverted"),
    section: chosenLiner("felt, polyester", "pushed or pulled section"),
    connection: chosenLiner("felt, polyester", "launched from the main"),
    "one-piece": null,
  },
  effluents: houseEffluents,
  scopes: standardScopes,
  placing: housePlacing,
  hosts: houseHosts,
  drainFlow: { ...houseDrainFlow, leastSlopes: null, designFlow: null },
  wetOut: houseWetOutRules,
  potLifeMargin: housePotLifeMargin,
  shopChart: null,
  materials: houseMaterials,
  steps: houseWorkSteps,
  life: houseDesignLife,
  seasonDays: houseSeasonDays,
  calendar: null,
  mainsLined: { laterals: {}, districts: {} },
  budgetPays: "whole cost",
  bidItems: houseBidItems,
  prices,
  priceSource: "Invented prices for tests",
  scores: usualScores,
  ruleBook: bindRules(
    compileRules({
      program: head,
      rules: houseRules,
    }),
  ),
  ownColumns: [],
  filters: [],
};

/** The house tables in a US program as of 1 March 2026, in a city without a survey: every fit is an assumption. */
export const usBasis: FittedBasis = {
  ...unfitted,
  fits: fitRecord({ asOfYear: 2026, seen: [], blockages: noBlockages, groups: [oneLateral] }, unfitted),
};

export const siBasis: FittedBasis = {
  ...usBasis,
  program: { ...usBasis.program, units: "si", currency: "EUR", print: { paper: "A4", dates: "ISO" } },
};

/** A complete survey of a sound pipe; a test says what differs. */
export const survey = (differs: Partial<Inspection> = {}): Inspection => ({
  on: on("2025-06-15"),
  structuralGrade: 1,
  omGrade: 1,
  connectionGrade: 1,
  structuralQuick: "",
  omQuick: "",
  surveyedLength: null,
  complete: true,
  stoppedBecause: "",
  ovality: null,
  direction: null,
  observations: null,
  ...differs,
});

/** A 4 in clay lateral, 40 ft long under a street, cleared of cross-bores, with a cleanout; a test says what differs. */
export const lateral = (differs: Partial<Lateral> = {}): Lateral => ({
  id: "00417",
  district: "LS-14",
  location: "12 Sample Street",
  hostDiameter: inches(4),
  hostLength: feet(40),
  hostMaterial: city("clay"),
  installYear: city(1958),
  coverAtMain: feet(8),
  coverAtHouse: feet(5),
  waterTableDepth: feet(4),
  surface: city("street"),
  mainDiameter: inches(8),
  cleanout: city(true),
  crossBore: city("cleared"),
  building: city("house"),
  backups: city(0),
  bends: null,
  sharpestBend: null,
  sizeChange: null,
  branches: null,
  slope: null,
  fixtureUnits: null,
  effluent: null,
  effluentTemperature: null,
  mainLining: null,
  access: null,
  lowerLength: null,
  upperLength: null,
  lowerOwner: null,
  upperOwner: null,
  cityShare: null,
  propertyLineCleanout: null,
  permissionSigned: null,
  permissionExpires: null,
  inspections: [survey()],
  decided: { structuralGrade: null, omGrade: null, treatment: null },
  tracked: notTracked,
  ...differs,
});

/** A structural hole of grade 4 at 12 ft; a test says what differs. */
export const observation = (differs: Partial<Observation> = {}): Observation => ({
  from: metres(convert(12, "ft", "m")),
  to: null,
  kind: "hole",
  mode: "structural",
  grade: 4,
  clock: "",
  turn: null,
  sizeAfter: null,
  note: "",
  ...differs,
});
