import {
  houseTreatmentEffects,
  type TreatmentEffects,
  treatmentEffectsSchema,
} from "../reference/treatment-effects.ts";
import { changedSource, checkedTable } from "./changed-table.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { partOf } from "./written-values.ts";

const AT = ["criteria", "treatment_effects"];
const sides = ["structural", "blockage", "reached"] as const;

/** What works leave of the chances of failure, with the program's own shares; each keeps the source of what it replaces. */
export function layEffects(settings: Settings, faults: Fault[]): TreatmentEffects | null {
  const changes = settings.criteria?.treatment_effects;
  if (changes === undefined) return houseTreatmentEffects;
  const works = { ...houseTreatmentEffects.works };
  for (const [name, change] of Object.entries(changes)) {
    const work = name as keyof typeof works;
    const house = works[work];
    if (change === undefined) continue;
    if (house === null) {
      faults.push(
        faultAt(
          settings,
          [...AT, work],
          `no such change: "${work}" changes no chance by itself\nTake it out.`,
        ),
      );
      continue;
    }
    const changed = sides.flatMap((side) => {
      const written = change[side];
      if (written === undefined) return [];
      const { least, best, most } = written;
      return [[side, { least: partOf(least), best: partOf(best), most: partOf(most) }] as const];
    });
    const note = `Changes ${changed.map(([side]) => side).join(", ")}.`;
    works[work] = {
      ...house,
      ...Object.fromEntries(changed),
      source: changedSource([...AT, work].join("."), house.source, note),
    };
  }
  return checkedTable(
    treatmentEffectsSchema,
    { ...houseTreatmentEffects, works },
    settings,
    AT,
    {},
    faults,
    (path) => path.filter((step) => step !== "works"),
  );
}
