import {
  type DesignCriteria,
  designCriteriaSchema,
  designCriteriaSets,
} from "../reference/design-criteria.ts";
import { type LinerSystem, linerSystemSchema, linerSystems } from "../reference/liner-systems.ts";
import { liveLoads } from "../reference/live-loads.ts";
import { type Resin, resins } from "../reference/resins.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import { designQuantities, linerQuantities } from "./criteria-schema.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";

export function layDesign(settings: Settings, faults: Fault[]): DesignCriteria | null {
  const base = chosen(designCriteriaSets, settings, "design", faults);
  const changes = settings.criteria?.design_changes;
  if (base === null || changes === undefined || Object.keys(changes).length === 0) return base;
  const at = ["criteria", "design_changes"];
  if (changes.wheel !== undefined && !Object.hasOwn(liveLoads.wheels, changes.wheel)) {
    faults.push(oneOf(settings, [...at, "wheel"], Object.keys(liveLoads.wheels)));
  }
  if (changes.impact_table !== undefined && !Object.hasOwn(liveLoads.impact, changes.impact_table)) {
    faults.push(oneOf(settings, [...at, "impact_table"], Object.keys(liveLoads.impact)));
  }
  const by = changes.deterioration_by ?? base.deteriorationBy;
  if ((changes.deterioration ?? base.deterioration) === "partially" && by.trim() === "") {
    const expected = `"fully", or "deterioration_by" beside it: the specification or engineer who says "partially"`;
    faults.push(faultAt(settings, [...at, "deterioration"], `${expected}\nAdd "deterioration_by".`));
    return null;
  }
  const source = changedSource(
    at.join("."),
    base.source,
    `Changes ${Object.keys(changes).join(", ")} of the set "${base.key}".`,
  );
  const table = {
    ...(overlaid(base, asTable(changes, designQuantities)) as object),
    key: `${base.key}, changed`,
    source,
  };
  return checkedTable(designCriteriaSchema, table, settings, at, designQuantities, faults);
}

const STOCK_KEYS = [
  "stocked_diameters",
  "diameter_tolerance",
  "stocked_walls",
  "longest_length",
  "run_in",
  "run_out",
  "void_ratio",
  "excess",
];

export function layLinerSystem(settings: Settings, faults: Fault[]): LinerSystem | null {
  const base = chosen(linerSystems, settings, "liner_system", faults);
  const changes = settings.criteria?.liner_system_changes;
  if (base === null || changes === undefined || Object.keys(changes).length === 0) return base;
  const at = ["criteria", "liner_system_changes"];
  const stock = Object.keys(changes).filter((key) => STOCK_KEYS.includes(key));
  const properties = Object.keys(changes).filter((key) => !STOCK_KEYS.includes(key) && key !== "label");
  const sourceOf = (keys: readonly string[], replaced: LinerSystem["stockSource"]) =>
    keys.length === 0
      ? replaced
      : changedSource(at.join("."), replaced, `Changes ${keys.join(", ")} of the system "${base.key}".`);
  const table = {
    ...(overlaid(base, asTable(changes, linerQuantities)) as object),
    key: `${base.key}, changed`,
    label: changes.label ?? `${base.label}, changed`,
    propertySource: sourceOf(properties, base.propertySource),
    stockSource: sourceOf(stock, base.stockSource),
  };
  return checkedTable(linerSystemSchema, table, settings, at, linerQuantities, faults);
}

export function layResin(settings: Settings, system: LinerSystem, faults: Fault[]): Resin | null {
  const found = resins.find((resin) => resin.key === system.resin);
  if (found !== undefined) return found;
  const path = ["criteria", "liner_system_changes", "resin"];
  faults.push(
    oneOf(
      settings,
      path,
      resins.map((resin) => resin.key),
    ),
  );
  return null;
}

/** The member of a list of tables that the settings name, or its first when they name none. */
function chosen<Table extends { readonly key: string }>(
  tables: readonly Table[],
  settings: Settings,
  key: "design" | "liner_system",
  faults: Fault[],
): Table | null {
  const wanted = settings.criteria?.[key];
  const found = wanted === undefined ? tables[0] : tables.find((table) => table.key === wanted);
  if (found !== undefined) return found;
  faults.push(
    oneOf(
      settings,
      ["criteria", key],
      tables.map((table) => table.key),
    ),
  );
  return null;
}

const oneOf = (settings: Settings, path: readonly string[], words: readonly string[]): Fault =>
  faultAt(settings, path, `one of ${words.map((word) => JSON.stringify(word)).join(", ")}`, words);
