import { z } from "zod";
import { buildings, surfaces } from "../columns/lateral-columns.ts";
import { treatmentKinds } from "../columns/plan-columns.ts";
import type { QuantityMeasure } from "../quantity/measure.ts";
import { workPositions } from "../reference/work-steps.ts";
import { list, number, part, quantity, text, whole, words } from "./written-values.ts";

/**
 * `criteria` of program.json: what the program changes in the reference tables. Only words, units and kinds are
 * checked here; the ranges are those of the tables themselves, checked when the change is laid over them.
 */
export const designQuantities = {
  soil_modulus: "modulus",
  soil_unit_weight: "unit_weight",
  minimum_wall: "wall",
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
  live_load_method: words(["boussinesq", "spread", "depth table", "none"]).optional(),
  impact_table: text("the name of an impact table").optional(),
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
  excess: "percent",
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
  excess: part.optional(),
});

const assumptions = z.strictObject({
  cover: quantity("length").optional(),
  water_table_depth: quantity("length").optional(),
  ovality: part.optional(),
  surface: words(surfaces).optional(),
  building: words(buildings).optional(),
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
});

const steps = z.strictObject({
  step: text("the name of the step"),
  position: words(workPositions),
  minutes: number,
  minutes_per_metre: number.optional(),
});

export const criteriaSchema = z.strictObject({
  design: text("the key of a set of design criteria").optional(),
  design_changes: designChanges.optional(),
  liner_system: text("the key of a liner system").optional(),
  liner_system_changes: linerChanges.optional(),
  assumptions: assumptions.optional(),
  risk: risk.optional(),
  treatments: z
    .strictObject({ thresholds: thresholds.optional(), order: list(words(treatmentKinds)).optional() })
    .optional(),
  work_steps: z
    .strictObject({
      shift_minutes: whole.optional(),
      steps: z.partialRecord(z.enum([...treatmentKinds, "new cleanout"]), list(steps)).optional(),
    })
    .optional(),
});

export type SettingsCriteria = z.infer<typeof criteriaSchema>;
