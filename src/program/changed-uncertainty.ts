import * as z from "zod";
import { treatmentKinds } from "../columns/plan-columns.ts";
import { bidItemKeys } from "../reference/bid-items.ts";
import { houseUncertainty, type Uncertainty, uncertaintySchema } from "../reference/uncertainty.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import type { Fault } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { list, number, part, text, whole, words } from "./written-values.ts";

const spread = z.strictObject({ least: number, best: number, most: number }).optional();

/** `criteria.uncertainty` of program.json. */
export const uncertaintyChanges = z.strictObject({
  shape: words(["beta-PERT", "triangular"]).optional(),
  draws: whole.optional(),
  seed: whole.optional(),
  time: z.strictObject({ productivity: spread, own: spread }).optional(),
  length: z.strictObject({ bias: spread, own: spread }).optional(),
  price: z
    .strictObject({
      market: spread,
      of_class: spread,
      /** All of them: an item in no class is other work. */
      classes: z.record(z.string(), list(words(bidItemKeys))).optional(),
    })
    .optional(),
  changes: z
    .strictObject({
      together: spread,
      on: z
        .partialRecord(
          z.enum(treatmentKinds),
          z.strictObject({
            to: words(treatmentKinds),
            chance: part,
            found_grade: whole,
            prices: text("a class of prices"),
            by_length: z.boolean("true or false"),
          }),
        )
        .optional(),
    })
    .optional(),
  weather: z.strictObject({ times: spread }).optional(),
  contingency_level: part.optional(),
  estimate_class: whole.optional(),
});

const AT = ["criteria", "uncertainty"];
const shares = { chance: "percent", contingency_level: "percent" } as const;

/** How far the season may differ from its plan, with the program's changes. Classes of prices are taken whole. */
export function layUncertainty(settings: Settings, faults: Fault[]): Uncertainty | null {
  const changes = settings.criteria?.uncertainty;
  if (changes === undefined) return houseUncertainty;
  const house = houseUncertainty;
  const source = (written: readonly (keyof typeof changes)[], replaced: Uncertainty["shapeSource"]) => {
    const changed = written.filter((key) => changes[key] !== undefined);
    return changed.length === 0
      ? replaced
      : changedSource([...AT, changed[0]].join("."), replaced, `Changes ${changed.join(", ")}.`);
  };
  const group = <Key extends "time" | "length" | "price" | "changes" | "weather">(key: Key) => ({
    source: source([key], house[key].source),
  });
  const { classes, ...price } = changes.price ?? {};
  const table = {
    ...(overlaid(house, {
      ...(asTable({ ...changes, price }, shares) as object),
      shapeSource: source(["shape"], house.shapeSource),
      drawsSource: source(["draws", "seed"], house.drawsSource),
      contingencySource: source(["contingency_level"], house.contingencySource),
      estimateClassSource: source(["estimate_class"], house.estimateClassSource),
    }) as typeof house),
  };
  const laid = {
    ...table,
    time: { ...table.time, ...group("time") },
    length: { ...table.length, ...group("length") },
    price: { ...table.price, classes: classes ?? house.price.classes, ...group("price") },
    changes: { ...table.changes, ...group("changes") },
    weather: { ...table.weather, ...group("weather") },
  };
  return checkedTable(uncertaintySchema, laid, settings, AT, shares, faults);
}
