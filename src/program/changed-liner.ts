import { type EffluentTable, houseEffluents } from "../reference/effluents.ts";
import {
  type LinerSystem,
  linerSystemSchema,
  linerSystems,
  type PlannedUse,
  plannedUses,
  type UsualUse,
} from "../reference/liner-systems.ts";
import { type Resin, resins } from "../reference/resins.ts";
import type { Source } from "../reference/source.ts";
import { type ConnectionRules, connectionSchema, houseTreatmentRules } from "../reference/treatment-rules.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import { connectionQuantities, linerQuantities, type SettingsCriteria } from "./criteria-schema.ts";
import type { JsonPath } from "./json-places.ts";
import { type Fault, faultAt, oneOf } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";

/** A system with its resin. */
export interface SystemAndResin {
  readonly system: LinerSystem;
  readonly resin: Resin;
}

export type LaidLiners = Readonly<Record<UsualUse, SystemAndResin>> & {
  readonly "one-piece": SystemAndResin | null;
};

/**
 * The system of each use: `liner_systems` names one for the use, `liner_system` the one for all others, and the first
 * of the table stands where the program names none. Each must serve its use. One-piece liners are the exception: no crew is taken to
 * bring them, so without a system that makes them there are none.
 */
export function layLiners(settings: Settings, faults: Fault[]): LaidLiners | null {
  const criteria = settings.criteria ?? {};
  const before = faults.length;
  const ownUses = plannedUses.filter((use) => criteria.liner_systems?.[use] !== undefined);
  // Uses that share the system share the object, so that a section is designed once with its full-length liner.
  const forAll =
    ownUses.length === plannedUses.length
      ? null
      : laySystem(
          settings,
          ["criteria", "liner_system"],
          ["criteria", "liner_system_changes"],
          criteria.liner_system,
          criteria.liner_system_changes,
          faults,
        );
  const laid = plannedUses.map((use): SystemAndResin | null => {
    const own = criteria.liner_systems?.[use];
    const at = ["criteria", "liner_systems", use];
    const chosen =
      own === undefined ? forAll : laySystem(settings, at, changesAt(use), own, undefined, faults);
    if (chosen === null) return null;
    const changes = criteria.liner_systems_changes?.[use];
    if (use === "one-piece" && own === undefined && !chosen.system.uses.includes(use)) {
      if (changes !== undefined) faults.push(noOnePiece(settings, changesAt(use)));
      return null;
    }
    const changed =
      changes === undefined ? chosen : layChanges(settings, changesAt(use), chosen.system, changes, faults);
    if (changed === null) return null;
    if (!changed.system.uses.includes(use)) {
      faults.push(own === undefined ? notForAll(settings, changed.system, use) : notFor(settings, at, use));
    }
    return changed;
  });
  const [full, section, connection, onePiece = null] = laid;
  if (faults.length > before || !full || !section || !connection) return null;
  return { "full-length": full, section, connection, "one-piece": onePiece };
}

/** What is said of one-piece liners where no system makes them would be ignored. */
export function noOnePiece(settings: Settings, at: JsonPath): Fault {
  const keys = keysFor("one-piece").map((key) => JSON.stringify(key));
  const expected = 'a system of one-piece liners beside it, in "liner_systems": the program names none';
  return faultAt(
    settings,
    at,
    `${expected}\nAdd "liner_systems": { "one-piece": ${keys[0]} }, or take this out.`,
  );
}

const changesAt = (use: PlannedUse): JsonPath => ["criteria", "liner_systems_changes", use];

const keysFor = (use: PlannedUse): readonly string[] =>
  linerSystems.filter((system) => system.uses.includes(use)).map(({ key }) => key);

const notFor = (settings: Settings, at: JsonPath, use: PlannedUse): Fault =>
  oneOf(settings, at, keysFor(use));

function notForAll(settings: Settings, system: LinerSystem, use: PlannedUse): Fault {
  const keys = keysFor(use).map((key) => JSON.stringify(key));
  const expected = `a system for every use, or "liner_systems" beside it: "${system.key}" makes no ${use} liner`;
  const remedy = `Add "liner_systems": { "${use}": ${keys[0]} }, or another of ${keys.join(", ")}.`;
  return faultAt(settings, ["criteria", "liner_system"], `${expected}\n${remedy}`);
}

function laySystem(
  settings: Settings,
  at: JsonPath,
  changedAt: JsonPath,
  wanted: string | undefined,
  changes: LinerChanges | undefined,
  faults: Fault[],
): SystemAndResin | null {
  const base = wanted === undefined ? linerSystems[0] : linerSystems.find(({ key }) => key === wanted);
  if (base === undefined) {
    const keys = linerSystems.map(({ key }) => key);
    faults.push(oneOf(settings, at, keys));
    return null;
  }
  return layChanges(settings, changedAt, base, changes ?? {}, faults);
}

type LinerChanges = NonNullable<SettingsCriteria["liner_system_changes"]>;

/** Which source the change of a key replaces. */
const sourceKeys: readonly (readonly [
  source: keyof LinerSystem & `${string}Source`,
  keys: readonly string[],
])[] = [
  [
    "propertySource",
    ["resin", "short_term_modulus", "flexural_strength", "modulus_retention", "strength_retention"],
  ],
  ["tubeSource", ["void_ratio", "fibre_mass_fraction", "excess"]],
  ["temperatureSource", ["properties_up_to", "temperature_rating", "long_term_modulus_at"]],
  ["chemistrySource", ["resists"]],
  ["stockSource", ["stocked_diameters", "diameter_tolerance", "stocked_walls", "run_in", "run_out"]],
  ["reachSource", ["longest_length", "host_diameters", "greatest_bend", "size_change_bridged"]],
];

function layChanges(
  settings: Settings,
  at: JsonPath,
  base: LinerSystem,
  changes: LinerChanges,
  faults: Fault[],
): SystemAndResin | null {
  if (Object.keys(changes).length === 0) return withResin(settings, at, base, faults);
  const tubeKey = base.tube.kind === "felt" ? "fibre_mass_fraction" : "void_ratio";
  if (changes[tubeKey] !== undefined) {
    faults.push(
      faultAt(settings, [...at, tubeKey], `no such key for a tube of ${base.tube.kind}\nTake it out.`),
    );
    return null;
  }
  const { voidRatio, fibreMassFraction, ...rest } = asTable(changes, linerQuantities) as Record<
    string,
    unknown
  >;
  const tube = {
    ...(voidRatio === undefined ? {} : { voidRatio }),
    ...(fibreMassFraction === undefined ? {} : { fibreMassFraction }),
  };
  const sources: Record<string, Source> = {};
  for (const [source, keys] of sourceKeys) {
    const changed = Object.keys(changes).filter((key) => keys.includes(key));
    if (changed.length === 0) continue;
    const note = `Changes ${changed.join(", ")} of the system "${base.key}".`;
    sources[source] = changedSource(at.join("."), base[source] as Source, note);
  }
  const calibrationTube =
    changes.calibration_tube === undefined
      ? {}
      : { calibrationTube: { source: { document: "program.json", at: `${at.join(".")}.calibration_tube` } } };
  const table = {
    ...(overlaid(overlaid(base, { ...rest, tube }), calibrationTube) as object),
    ...sources,
    key: `${base.key}, changed`,
    label: changes.label ?? `${base.label}, changed`,
  };
  const inner: Fault[] = [];
  const system = checkedTable(linerSystemSchema, table, settings, at, linerQuantities, inner);
  // The table keeps the tube in a group of its own; program.json writes its part under the key itself.
  faults.push(
    ...inner.map((fault) =>
      faultAt(
        settings,
        fault.path.filter((part) => part !== "tube"),
        fault.expected,
      ),
    ),
  );
  return system === null ? null : withResin(settings, at, system, faults);
}

function withResin(
  settings: Settings,
  at: JsonPath,
  system: LinerSystem,
  faults: Fault[],
): SystemAndResin | null {
  const resin = resins.find(({ key }) => key === system.resin);
  if (resin !== undefined) return { system, resin };
  const keys = resins.map(({ key }) => key);
  faults.push(oneOf(settings, [...at, "resin"], keys));
  return null;
}

/** What the program says of its connection liners, and that the system chosen for them has such a part in the main. */
export function layConnection(
  settings: Settings,
  system: LinerSystem | null,
  faults: Fault[],
): ConnectionRules | null {
  const house = houseTreatmentRules.connection;
  const changes = settings.criteria?.connection;
  const at = ["criteria", "connection"];
  const table =
    changes === undefined
      ? house
      : overlaid(house, {
          ...(asTable(changes, connectionQuantities) as object),
          source: changedSource(at.join("."), house.source, `Changes ${Object.keys(changes).join(", ")}.`),
        });
  const connection = checkedTable(connectionSchema, table, settings, at, connectionQuantities, faults);
  if (connection === null || system === null || system.main === null) return connection;
  if (system.main.parts.includes(connection.mainPart)) return connection;
  faults.push(oneOf(settings, [...at, "main_part"], system.main.parts));
  return null;
}

/** The city's own limit on heat in its sewers. */
export function layEffluents(settings: Settings): EffluentTable {
  const changes = settings.criteria?.effluent;
  if (changes === undefined) return houseEffluents;
  const { dischargeLimit } = houseEffluents;
  const { dischargeLimit: celsius } = asTable(changes, { discharge_limit: "temperature" }) as {
    readonly dischargeLimit: number;
  };
  const source = changedSource("criteria.effluent.discharge_limit", dischargeLimit.source, "The city's own.");
  return { ...houseEffluents, dischargeLimit: { ...dischargeLimit, celsius, source } };
}
