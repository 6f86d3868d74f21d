import {
  type DesignCriteria,
  designCriteriaSchema,
  designCriteriaSets,
  RAIL,
} from "../reference/design-criteria.ts";
import { liveLoads } from "../reference/live-loads.ts";
import { soilModuli } from "../reference/soil-moduli.ts";
import { describeSource } from "../reference/source.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import { designQuantities } from "./criteria-schema.ts";
import { type Fault, faultAt, oneOf } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";

/** The set of design criteria that the program names, with its changes and its soil laid over it. */
export function layDesign(settings: Settings, faults: Fault[]): DesignCriteria | null {
  const base = chosenSet(settings, faults);
  const changes = settings.criteria?.design_changes ?? {};
  const { soil } = settings.criteria ?? {};
  if (base === null || (Object.keys(changes).length === 0 && soil === undefined)) return base;
  const at = ["criteria", "design_changes"];
  refuseUnknownNames(settings, faults);
  const by = changes.deterioration_by ?? base.deteriorationBy;
  if ((changes.deterioration ?? base.deterioration) === "partially" && by.trim() === "") {
    const expected = `"fully", or "deterioration_by" beside it: the specification or engineer who says "partially"`;
    faults.push(faultAt(settings, [...at, "deterioration"], `${expected}\nAdd "deterioration_by".`));
    return null;
  }
  const ofSoil = soil === undefined ? {} : laySoil(soil, settings, faults);
  if (ofSoil === null) return null;
  const changed = [...Object.keys(changes), ...Object.keys(ofSoil)];
  const note =
    soil === undefined ? "" : ` Soil modulus of the soil named: ${describeSource(soilModuli.source)}`;
  const table = {
    ...(overlaid(base, { ...(asTable(changes, designQuantities) as object), ...ofSoil }) as object),
    key: `${base.key}, changed`,
    source: changedSource(
      soil === undefined ? at.join(".") : "criteria",
      base.source,
      `Changes ${changed.join(", ")} of the set "${base.key}".${note}`,
    ),
  };
  return checkedTable(designCriteriaSchema, table, settings, at, designQuantities, faults);
}

function chosenSet(settings: Settings, faults: Fault[]): DesignCriteria | null {
  const wanted = settings.criteria?.design;
  const found =
    wanted === undefined ? designCriteriaSets[0] : designCriteriaSets.find(({ key }) => key === wanted);
  if (found !== undefined) return found;
  const keys = designCriteriaSets.map(({ key }) => key);
  faults.push(oneOf(settings, ["criteria", "design"], keys));
  return null;
}

/** Names of tables that must exist. */
function refuseUnknownNames(settings: Settings, faults: Fault[]): void {
  const changes = settings.criteria?.design_changes ?? {};
  const known = {
    wheel: [...Object.keys(liveLoads.wheels), RAIL],
    impact_table: Object.keys(liveLoads.impact),
    depth_table: Object.keys(liveLoads.depthTables),
    spread_soil: Object.keys(liveLoads.spread.growth),
  };
  for (const key of Object.keys(known) as (keyof typeof known)[]) {
    const name = changes[key];
    if (name !== undefined && !known[key].includes(name))
      faults.push(oneOf(settings, ["criteria", "design_changes", key], known[key]));
  }
}

/** The soil modulus of a class and compaction. A modulus of the program's own beside it would contradict it. */
function laySoil(
  soil: NonNullable<NonNullable<Settings["criteria"]>["soil"]>,
  settings: Settings,
  faults: Fault[],
): Pick<DesignCriteria, "soil" | "soilModulus"> | null {
  const values = soilModuli.classes[soil.class].megapascals;
  if (settings.criteria?.design_changes?.soil_modulus !== undefined) {
    const expected = `no "soil" beside "soil_modulus": one of the two\nTake one out.`;
    faults.push(faultAt(settings, ["criteria", "soil"], expected));
    return null;
  }
  if (values === null) {
    const expected = `a soil with a modulus: the table has none for ${JSON.stringify(soil.class)}\nConsult a soils engineer, and write "soil_modulus" under "design_changes".`;
    faults.push(faultAt(settings, ["criteria", "soil", "class"], expected));
    return null;
  }
  return { soil, soilModulus: values[soil.compaction] };
}
