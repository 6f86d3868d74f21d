import * as z from "zod";
import { hostMaterials } from "../columns/lateral-columns.ts";
import { treatmentKinds } from "../columns/plan-columns.ts";
import type { QuantityMeasure } from "../quantity/measure.ts";
import { cureMethods, placingMethods, plannedUses } from "../reference/liner-systems.ts";
import { list, number, part, quantity, text, whole, words } from "./written-values.ts";

/** What `criteria` says of how liners are cured, placed and wet out, and of the flow after. */

const byUse = <Value extends z.ZodType>(value: Value) => z.partialRecord(z.enum(plannedUses), value);

const CURE_STEP =
  'a rise such as { "heat_to": "155 °F", "minutes": 120 }, a hold such as { "hold_minutes": 240 }, or a cool-down ' +
  'such as { "cool_to": "100 °F", "fahrenheit_per_hour": 20 } (or "celsius_per_hour")';

const cureStep = z
  .strictObject({
    heat_to: quantity("temperature").optional(),
    cool_to: quantity("temperature").optional(),
    hold_minutes: number.optional(),
    minutes: number.optional(),
    fahrenheit_per_hour: number.optional(),
    celsius_per_hour: number.optional(),
  })
  .refine((step) => {
    const paces = [step.minutes, step.fahrenheit_per_hour, step.celsius_per_hour].filter(
      (pace) => pace !== undefined,
    ).length;
    const kinds = [step.heat_to, step.cool_to, step.hold_minutes].filter((kind) => kind !== undefined).length;
    return kinds === 1 && paces === (step.hold_minutes === undefined ? 1 : 0);
  }, CURE_STEP);

export type WrittenCureStep = z.infer<typeof cureStep>;

export const pathQuantities = { slope: "percent" } as const satisfies Record<string, QuantityMeasure>;
export const inflationQuantities = {
  margin: "pressure",
  branch_head: "length",
  bladder: "pressure",
  host: "pressure",
} as const satisfies Record<string, QuantityMeasure>;

export const materialQuantities = {
  length: "length",
  usable_left: "length",
  per_metre: "volume",
  per_stop: "volume",
  container: "volume",
} as const satisfies Record<string, QuantityMeasure>;

/** What the takeoff is counted with. */
const materials = z.strictObject({
  rolls: z
    .strictObject({ length: quantity("length"), usable_left: quantity("length") })
    .partial()
    .optional(),
  seals: z.strictObject({ box: whole, waste: part }).partial().optional(),
  bladders: z.strictObject({ lives: whole }).optional(),
  grout: z
    .strictObject({
      per_metre: quantity("volume"),
      per_stop: quantity("volume"),
      container: quantity("volume"),
      waste: part,
    })
    .partial()
    .optional(),
  /** Times the whole lateral is run through, by treatment. */
  passes: z
    .partialRecord(
      z.enum(treatmentKinds),
      z.strictObject({ camera: whole, cleaning: whole, root_cutting: whole, grout: whole }).partial(),
    )
    .optional(),
});

const mix = z.strictObject({
  base: number,
  hardener: number,
  basis: words(["by weight", "by volume"]),
  base_density: quantity("density").optional(),
  hardener_density: quantity("density").optional(),
});

export const workCriteria = {
  /** One for all liners, or one for each use. */
  cure: z
    .union([words(cureMethods), byUse(words(cureMethods))], {
      error: `one of ${cureMethods.map((key) => JSON.stringify(key)).join(", ")}, or one for each use`,
    })
    .optional(),
  cure_changes: z
    .partialRecord(
      z.enum(cureMethods),
      z.strictObject({
        start_temperature: quantity("temperature").optional(),
        release_temperature: quantity("temperature").optional(),
      }),
    )
    .optional(),
  /** The resin supplier's schedules, in place of the house's. */
  cure_schedules: z
    .partialRecord(
      z.enum(cureMethods),
      z.strictObject({
        source: text("whose schedule it is, with its date"),
        start: quantity("temperature"),
        steps: list(cureStep),
      }),
    )
    .optional(),
  placing: byUse(words(placingMethods)).optional(),
  placing_changes: z
    .strictObject({
      insertion_rate: quantity("velocity").optional(),
      friction: number.optional(),
      rope_friction: number.optional(),
      hold_back: quantity("force").optional(),
      winch_limit: quantity("force").optional(),
      tube_limit: quantity("force").optional(),
      path: z
        .strictObject({
          bends: whole.optional(),
          bend_degrees: number.optional(),
          radius_in_diameters: number.optional(),
          slope: part.optional(),
        })
        .optional(),
      inflation: z
        .strictObject({
          margin: quantity("pressure").optional(),
          branch_head: quantity("length").optional(),
          bladder: quantity("pressure").optional(),
          host: quantity("pressure").optional(),
          building: words(["isolated", "open"]).optional(),
        })
        .optional(),
    })
    .optional(),
  hosts: z
    .partialRecord(
      z.enum(hostMaterials),
      z.strictObject({
        bears: quantity("temperature").optional(),
        roughness: z.strictObject({ least: number, most: number }).optional(),
      }),
    )
    .optional(),
  flow: z
    .strictObject({
      minimum_slopes: text("the key of a set of least slopes").optional(),
      self_cleansing: quantity("velocity").optional(),
      design_flow: quantity("flow").optional(),
    })
    .optional(),
  wet_out: z
    .strictObject({
      forecast_temperature: quantity("temperature").optional(),
      haul_minutes: number.optional(),
      scale_step: quantity("mass").optional(),
      ratio_tolerance: part.optional(),
      pot_life: z
        .strictObject({
          minutes: number,
          at: quantity("temperature"),
          factor_per_ten_degrees: number.optional(),
        })
        .optional(),
      pot_life_margin: part.optional(),
      /** A ratio never stands without its basis: 4 : 1 by volume and by weight are two mixes. */
      mix: mix.optional(),
      containers: z
        .strictObject({
          resin: quantity("mass").optional(),
          base: quantity("mass").optional(),
          hardener: quantity("mass").optional(),
        })
        .optional(),
      kit: z.strictObject({ base: quantity("mass"), hardener: quantity("mass") }).optional(),
      waste: part.optional(),
    })
    .optional(),
  materials: materials.optional(),
  /** Mixed resin for each length of tube, by size and wall: `{ "4 in x 4.5 mm": "0.8 lb/ft" }`. */
  shop_chart: z.record(z.string(), quantity("linear_mass")).optional(),
};
