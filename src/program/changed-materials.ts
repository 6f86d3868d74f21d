import { houseMaterials, type MaterialRules, materialRulesSchema } from "../reference/materials.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import type { Fault } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { materialQuantities } from "./work-schema.ts";
import { partOf } from "./written-values.ts";

const AT = ["criteria", "materials"];

/** Rolls, boxes, lives, grout and passes of the takeoff. */
export function layMaterials(settings: Settings, faults: Fault[]): MaterialRules | null {
  const changes = settings.criteria?.materials;
  if (changes === undefined) return houseMaterials;
  const { seals, grout, passes, ...others } = changes;
  const withWaste = (group: { readonly waste?: string | number | undefined } | undefined) =>
    group?.waste === undefined ? group : { ...group, waste: partOf(group.waste) };
  const written = {
    ...others,
    ...(seals === undefined ? {} : { seals: withWaste(seals) }),
    ...(grout === undefined ? {} : { grout: withWaste(grout) }),
    ...(passes === undefined ? {} : { passes: { values: passes } }),
  };
  const laid = overlaid(houseMaterials, asTable(written, materialQuantities)) as MaterialRules;
  const table = Object.fromEntries(
    Object.entries(laid).map(([key, group]) => {
      const said = changes[key as keyof typeof changes];
      if (said === undefined || typeof group === "string") return [key, group];
      const source = changedSource(
        `${AT.join(".")}.${key}`,
        group.source,
        `Changes ${Object.keys(said).join(", ")}.`,
      );
      return [key, { ...group, source }];
    }),
  );
  return checkedTable(materialRulesSchema, table, settings, AT, materialQuantities, faults);
}
