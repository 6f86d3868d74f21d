import * as z from "zod";
import { buildings, effluents, surfaces } from "../columns/lateral-columns.ts";
import { crewKinds, treatmentKinds } from "../columns/plan-columns.ts";
import type { QuantityMeasure } from "../quantity/measure.ts";
import { mainParts, plannedUses } from "../reference/liner-systems.ts";
import { observationKinds } from "../reference/observation-kinds.ts";
import { soilClasses, soilCompactions } from "../reference/soil-moduli.ts";
import { noticeCounts, workedTimes, workPositions } from "../reference/work-steps.ts";
import { workKinds } from "../reference/works.ts";
import { uncertaintyChanges } from "./changed-uncertainty.ts";
import { failureCriteria } from "./failure-schema.ts";
import { workCriteria } from "./work-schema.ts";
import { list, number, part, quantity, text, whole, words } from "./written-values.ts";

/**
 * `criteria` of program.json: what the program changes in the reference tables. Only words, units and kinds are
 * checked here; the ranges are those of the tables themselves, checked when the change is laid over them.
 */
export const designQuantities = {
  soil_modulus: "modulus",
  soil_unit_weight: "unit_weight",
  minimum_wall: "wall",
  stated_live_load: "pressure",
} as const satisfies Record<string, QuantityMeasure>;

const designChanges = z.strictObject({
  deterioration: words(["fully", "partially"]).optional(),
  deterioration_by: text("the specification or engineer who says so").optional(),
  edition: words(["2007b and later", "before 2007b"]).optional(),
  strength_basis: words(["long term", "short term"]).optional(),
  safety_factor: number.optional(),
  enhancement: number.optional(),
  poissons_ratio: number.optional(),
  soil_modulus: quantity("modulus").optional(),
  soil_unit_weight: quantity("unit_weight").optional(),
  minimum_wall: quantity("wall").optional(),
  wheel: text("the name of a wheel").optional(),
  live_load_method: words(["boussinesq", "spread", "depth table", "stated", "none"]).optional(),
  impact_table: text("the name of an impact table").optional(),
  depth_table: text("the name of a depth table").optional(),
  spread_soil: text("the soil a wheel spreads through").optional(),
  live_load_reduction: number.optional(),
  stated_live_load: quantity("pressure").optional(),
  stated_live_load_by: text("the engineer who states the live load").optional(),
});

export const linerQuantities = {
  short_term_modulus: "modulus",
  flexural_strength: "modulus",
  modulus_retention: "percent",
  strength_retention: "percent",
  stocked_diameters: "diameter",
  diameter_tolerance: "percent",
  stocked_walls: "wall",
  longest_length: "length",
  run_in: "length",
  run_out: "length",
  void_ratio: "percent",
  fibre_mass_fraction: "percent",
  thickness: "wall",
  excess: "percent",
  properties_up_to: "temperature",
  temperature_rating: "temperature",
  temperature: "temperature",
  modulus: "modulus",
  strength: "modulus",
  least: "diameter",
  most: "diameter",
  size_change_bridged: "percent",
} as const satisfies Record<string, QuantityMeasure>;

const linerChanges = z.strictObject({
  label: text("a name for the changed system").optional(),
  resin: text("the key of a resin").optional(),
  short_term_modulus: quantity("modulus").optional(),
  flexural_strength: quantity("modulus").optional(),
  modulus_retention: part.optional(),
  strength_retention: part.optional(),
  stocked_diameters: list(quantity("diameter")).optional(),
  diameter_tolerance: part.optional(),
  stocked_walls: list(quantity("wall")).optional(),
  longest_length: quantity("length").optional(),
  run_in: quantity("length").optional(),
  run_out: quantity("length").optional(),
  void_ratio: part.optional(),
  fibre_mass_fraction: part.optional(),
  /** One that stays in the pipe and is soaked too. */
  calibration_tube: z.strictObject({ thickness: quantity("wall"), void_ratio: part }).optional(),
  excess: part.optional(),
  properties_up_to: quantity("temperature").optional(),
  temperature_rating: quantity("temperature").optional(),
  /** Measured long-term values: the owner's creep tests, at the temperature of the test. */
  long_term_modulus_at: list(
    z.strictObject({
      temperature: quantity("temperature"),
      modulus: quantity("modulus"),
      strength: quantity("modulus"),
    }),
  ).optional(),
  resists: list(words(effluents)).optional(),
  host_diameters: z.strictObject({ least: quantity("diameter"), most: quantity("diameter") }).optional(),
  greatest_bend: number.optional(),
  size_change_bridged: part.optional(),
});

export const connectionQuantities = {
  main_each_side: "length",
  brim_width: "diameter",
  length_up_lateral: "length",
} as const satisfies Record<string, QuantityMeasure>;

const connection = z.strictObject({
  main_part: words(mainParts).optional(),
  main_each_side: quantity("length").optional(),
  brim_width: quantity("diameter").optional(),
  length_up_lateral: quantity("length").optional(),
  junction: words(["tee", "wye"]).optional(),
  /** Degrees between lateral and main: 90 for a tee. */
  junction_angle: number.optional(),
});

const assumptions = z.strictObject({
  cover: quantity("length").optional(),
  water_table_depth: quantity("length").optional(),
  ovality: part.optional(),
  surface: words(surfaces).optional(),
  building: words(buildings).optional(),
  effluent: words(effluents).optional(),
  effluent_temperature: quantity("temperature").optional(),
  branches: whole.optional(),
});

const risk = z.strictObject({
  likelihood: z
    .strictObject({
      structural: list(number).optional(),
      om: list(number).optional(),
      backups: list(number).optional(),
    })
    .optional(),
  uninspected: z
    .strictObject({
      bands: list(z.strictObject({ from_age_years: number, points: number })).optional(),
      age_unknown: number.optional(),
    })
    .optional(),
  consequence: z
    .strictObject({
      building: z.partialRecord(z.enum(buildings), number).optional(),
      surface: z.partialRecord(z.enum(surfaces), number).optional(),
      weights: z.strictObject({ building: number.optional(), surface: number.optional() }).optional(),
    })
    .optional(),
});

const thresholds = z.strictObject({
  line_from_structural: whole.optional(),
  dig_from_structural: whole.optional(),
  clean_from_om: whole.optional(),
  connection_from: whole.optional(),
  leave_up_to_structural: whole.optional(),
  leave_up_to_om: whole.optional(),
  sectional_most_defects: whole.optional(),
  greatest_ovality: part.optional(),
  survey_too_old_years: number.optional(),
  join_surveys_within_days: whole.optional(),
});

const seenKind = words(observationKinds.kinds.map(({ kind }) => kind) as [string, ...string[]]);
const sectional = z.strictObject({
  overlap_each_side: quantity("length").optional(),
  defect_length: quantity("length").optional(),
  /** Least length over which sections lie on each other; without it they never do. */
  lap: quantity("length").optional(),
  /** Taken whole, like every list: the table's own are all replaced. */
  stocked_lengths: list(quantity("length")).optional(),
  keep_clear: list(
    z.strictObject({
      name: text("what is in the way"),
      kinds: list(seenKind),
      bars: words(["liner", "end"]),
      clear_each_side: quantity("length"),
    }),
  ).optional(),
  repairs: list(seenKind).optional(),
});

const steps = z.strictObject({
  step: text("the name of the step"),
  position: words(workPositions),
  crew: words(crewKinds),
  people: whole,
  equipment: list(text("a piece of equipment")).optional(),
  minutes: number,
  minutes_per_metre: number.optional(),
  minutes_per_branch: number.optional(),
  /** Times worked out for the liner, on top. */
  plus: list(words(workedTimes)).optional(),
  /** Done again for each of several sections. */
  each_piece: z.boolean().optional(),
  /** Steps of the same work that must be done before; none: []. */
  after: list(text("the name of a step written above")),
  crew_may_leave: z.literal(true, "true, or left out").optional(),
  no_water: z.literal(true, "true, or left out").optional(),
});

const shares = z.strictObject({ least: part, best: part, most: part });

const designLife = z.strictObject({
  horizon_years: whole.optional(),
  discount_rate: part.optional(),
  years: z.partialRecord(z.enum(workKinds), number.nullable()).optional(),
  choose: words(["order", "present worth"]).optional(),
});

const treatmentList = list(words(treatmentKinds));
const ruleChanges = z.strictObject({
  off: z.boolean().optional(),
  /** Who says that a rule of safety may be changed. */
  says_who: text("a name or an office").optional(),
  kind: words(["preference", "safety"]).optional(),
  asks: treatmentList.optional(),
  refuses: treatmentList.optional(),
  adds: words(workKinds).optional(),
  to: treatmentList.optional(),
  when: text("a condition in the formula language").optional(),
  because: text("what is said where it is a yes").optional(),
  otherwise: text("what is said where it is a no").optional(),
  unknown: text("what is said where it is not known").optional(),
});

export const criteriaSchema = z.strictObject({
  design: text("the key of a set of design criteria").optional(),
  design_changes: designChanges.optional(),
  liner_system: text("the key of a liner system").optional(),
  liner_system_changes: linerChanges.optional(),
  /** A system of its own for a use, in place of the one above, and changes of it. */
  liner_systems: z.partialRecord(z.enum(plannedUses), text("the key of a liner system")).optional(),
  liner_systems_changes: z.partialRecord(z.enum(plannedUses), linerChanges).optional(),
  soil: z.strictObject({ class: words(soilClasses), compaction: words(soilCompactions) }).optional(),
  connection: connection.optional(),
  effluent: z.strictObject({ discharge_limit: quantity("temperature") }).optional(),
  ...workCriteria,
  ...failureCriteria,
  assumptions: assumptions.optional(),
  risk: risk.optional(),
  treatments: z
    .strictObject({
      thresholds: thresholds.optional(),
      sectional: sectional.optional(),
      open_cut: z.strictObject({ trench_width: quantity("length") }).optional(),
      bursting: z
        .strictObject({
          pits: list(
            z.strictObject({
              name: text("what the pit is for"),
              surface: words(surfaces),
              area: quantity("area"),
            }),
          ),
        })
        .optional(),
      order: list(words(treatmentKinds)).optional(),
    })
    .optional(),
  /** What a work leaves of the chances of failure, and where it reaches infiltration. */
  treatment_effects: z
    .partialRecord(
      z.enum(workKinds),
      z.strictObject({
        structural: shares.optional(),
        blockage: shares.optional(),
        reached: shares.optional(),
      }),
    )
    .optional(),
  design_life: designLife.optional(),
  /** By the name of the rule: one of the house's to change, or the program's own. */
  rules: z.record(z.string(), ruleChanges).optional(),
  uncertainty: uncertaintyChanges.optional(),
  work_steps: z
    .strictObject({
      shift_minutes: whole.optional(),
      crews: z
        .partialRecord(
          z.enum(crewKinds),
          z.strictObject({ people: whole.optional(), sets: whole.optional() }),
        )
        .optional(),
      longest_outage_minutes: whole.optional(),
      notice_days: whole.optional(),
      notice_counts_in: z.enum(noticeCounts).optional(),
      work_hours: z.strictObject({ from: number, to: number }).optional(),
      steps: z.partialRecord(z.enum(workKinds), list(steps)).optional(),
    })
    .optional(),
});

export type SettingsCriteria = z.infer<typeof criteriaSchema>;
