import type { QuantityMeasure } from "../quantity/measure.ts";
import type { ChosenLiner, ChosenLiners } from "../reference/basis.ts";
import type { Cure } from "../reference/cure-methods.ts";
import { type PlannedUse, plannedUses } from "../reference/liner-systems.ts";
import {
  housePlacing,
  type PlacingTable,
  placingNamed,
  placingSchema,
} from "../reference/placing-methods.ts";
import { type LaidLiners, noOnePiece } from "./changed-liner.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import { changedResin } from "./changed-wet-out.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { inflationQuantities, pathQuantities } from "./work-schema.ts";
import { typedValue } from "./written-values.ts";

/** Rates, friction, limits, path and pressures of placing. */
export function layPlacing(settings: Settings, faults: Fault[]): PlacingTable | null {
  const changes = settings.criteria?.placing_changes;
  if (changes === undefined) return housePlacing;
  const house = housePlacing;
  const at = ["criteria", "placing_changes"];
  const changed = (key: string, source: Parameters<typeof changedSource>[1], keys: readonly string[]) =>
    keys.length === 0 ? source : changedSource([...at, key].join("."), source, `Changes ${keys.join(", ")}.`);
  const { insertion_rate: rate, path, inflation, ...pull } = changes;
  const pullQuantities: Record<string, QuantityMeasure> = {
    hold_back: "force",
    winch_limit: "force",
    tube_limit: "force",
  };
  const metresPerMinute = rate === undefined ? null : typedValue(rate, "velocity") * 60;
  const { building, ...pressures } = inflation ?? {};
  const table = {
    ...house,
    insertionRate:
      metresPerMinute === null
        ? house.insertionRate
        : {
            slowest: metresPerMinute,
            fastest: Math.max(metresPerMinute, house.insertionRate.fastest),
            source: changed("insertion_rate", house.insertionRate.source, ["insertion_rate"]),
          },
    methods: house.methods.map((method) =>
      method.pull === null || Object.keys(pull).length === 0
        ? method
        : {
            ...method,
            pull: {
              ...(overlaid(method.pull, asTable(pull, pullQuantities)) as object),
              source: changedSource(
                at.join("."),
                method.pull.source,
                `Changes ${Object.keys(pull).join(", ")}.`,
              ),
            },
          },
    ),
    path: {
      ...(overlaid(house.path, asTable(path, pathQuantities)) as object),
      source: changed("path", house.path.source, Object.keys(path ?? {})),
    },
    inflation: {
      ...(overlaid(house.inflation, asTable(pressures, inflationQuantities)) as object),
      source: changed("inflation", house.inflation.source, Object.keys(pressures)),
      building: building ?? house.inflation.building,
      buildingSource: changed(
        "inflation",
        house.inflation.buildingSource,
        building === undefined ? [] : ["building"],
      ),
    },
  };
  const measures = { ...pullQuantities, ...pathQuantities, ...inflationQuantities };
  return checkedTable(placingSchema, table, settings, at, measures, faults);
}

/** How a crew cures and places the liner chosen for each use: as the program says, or as is usual for its system. */
export function layWays(
  settings: Settings,
  liners: LaidLiners,
  cures: readonly Cure[],
  placing: PlacingTable,
  faults: Fault[],
): ChosenLiners | null {
  const before = faults.length;
  const entries = plannedUses.map((use): [PlannedUse, ChosenLiner | null] => {
    const laid = liners[use];
    if (laid === null) {
      refuseUnused(settings, use, faults);
      return [use, null];
    }
    const { system, resin } = laid;
    const cureKey = wayOf(settings, "cure", use, system.cures, system.cures[0], system.label, faults);
    const usual = placing.usual.values[use];
    const placingKey = wayOf(
      settings,
      "placing",
      use,
      system.placing,
      system.placing.includes(usual) ? usual : system.placing[0],
      system.label,
      faults,
    );
    const cure = cures.find(({ key }) => key === cureKey);
    if (cure === undefined || placingKey === null) return [use, null];
    return [
      use,
      { system, resin: changedResin(resin, settings), cure, placing: placingNamed(placing, placingKey) },
    ];
  });
  return faults.length > before ? null : (Object.fromEntries(entries) as unknown as ChosenLiners);
}

/** A way written for a use without a liner would be ignored. */
function refuseUnused(settings: Settings, use: PlannedUse, faults: Fault[]): void {
  for (const what of ["cure", "placing"] as const) {
    const written = settings.criteria?.[what];
    if (typeof written === "object" && written[use] !== undefined)
      faults.push(noOnePiece(settings, ["criteria", what, use]));
  }
}

function wayOf<Key extends string>(
  settings: Settings,
  what: "cure" | "placing",
  use: PlannedUse,
  allowed: readonly Key[],
  usual: Key | undefined,
  system: string,
  faults: Fault[],
): Key | null {
  const written = settings.criteria?.[what];
  const wanted = typeof written === "string" ? written : written?.[use];
  if (wanted === undefined) return usual ?? null;
  const found = allowed.find((key) => key === wanted);
  if (found !== undefined) return found;
  const path = ["criteria", what, ...(typeof written === "string" ? [] : [use])];
  const words = allowed.map((key) => JSON.stringify(key)).join(", ");
  faults.push(faultAt(settings, path, `one of ${words}: ${system} is the ${use} liner`, allowed));
  return null;
}
