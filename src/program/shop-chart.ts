import type { ChosenLiner } from "../reference/basis.ts";
import { type UsualUse, usualUses } from "../reference/liner-systems.ts";
import type { ShopChart } from "../reference/wet-out-rules.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { readTyped } from "./written-values.ts";

/** A size as written counts as a stocked one within this part of it: 4 in is 100 mm. */
const SIZE_SLACK = 0.02;

const KEY = 'a stocked size and wall such as "4 in x 4.5 mm"';

/**
 * The shop's chart of resin by size and wall, put to the stock of the program's liners. A row for a size that is not
 * stocked would never be used, so it is a fault.
 */
export function layShopChart(
  settings: Settings,
  liners: Readonly<Record<UsualUse, Pick<ChosenLiner, "system">>>,
  faults: Fault[],
): ShopChart | null {
  const written = settings.criteria?.shop_chart;
  if (written === undefined) return null;
  // A one-piece liner's resin is not by a chart of lengths of tube: see plan/wet-out.ts.
  const systems = usualUses.map((use) => liners[use].system);
  const diameters = [...new Set(systems.flatMap(({ stockedDiameters }) => stockedDiameters))];
  const walls = [...new Set(systems.flatMap(({ stockedWalls }) => stockedWalls))];
  const rows = Object.entries(written).flatMap(([key, value]) => {
    const path = ["criteria", "shop_chart", key];
    const [size = "", thickness = ""] = key.split(/\s+x\s+/);
    const diameter = stocked(size, "diameter", diameters, SIZE_SLACK);
    const wall = stocked(thickness, "wall", walls, 1e-6);
    const kilogramsPerMetre = readTyped(value, "linear_mass");
    if (diameter === null || wall === null)
      faults.push(faultAt(settings, path, `${KEY} as the key, not ${JSON.stringify(key)}`));
    if (kilogramsPerMetre === null || !(kilogramsPerMetre > 0))
      faults.push(faultAt(settings, path, 'a mass for each length above 0, such as "0.8 lb/ft"'));
    return diameter === null || wall === null || kilogramsPerMetre === null
      ? []
      : [{ diameter, wall, kilogramsPerMetre }];
  });
  return {
    rows,
    source: {
      document: "program.json",
      at: "criteria.shop_chart",
      note: "The shop's own chart overrules the theory; no excess is added to it.",
    },
  };
}

/** The stocked value a text means; null when it is no quantity with its unit or none is stocked so. */
function stocked(
  text: string,
  measure: "diameter" | "wall",
  stock: readonly number[],
  slack: number,
): number | null {
  const value = readTyped(text, measure);
  if (value === null) return null;
  return stock.find((size) => Math.abs(size - value) <= slack * size) ?? null;
}
