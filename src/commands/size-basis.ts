import { layBasis } from "../program/basis-for-settings.ts";
import { criteriaSchema } from "../program/criteria-schema.ts";
import type { JsonPath } from "../program/json-places.ts";
import { SETTINGS_FILE } from "../program/program-files.ts";
import { type Fault, faultsOf } from "../program/settings-faults.ts";
import type { Settings } from "../program/settings-schema.ts";
import { readTyped } from "../program/written-values.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { readNumber } from "../quantity/quantity-text.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import { houseSurfaceWheels } from "../reference/design-criteria.ts";
import { linerSystems, type PlannedUse } from "../reference/liner-systems.ts";
import { flagOf, placeOf, type SizeOption, type SizeOptions, sizeOptions } from "./size-options.ts";

/**
 * What the options say of the design, the liner and the work, laid over the house's tables by the same code that
 * reads program.json: each input and its limits exist once. Null when something cannot be used; then `faults` say it.
 */
export function basisOfOptions(
  options: SizeOptions,
  use: PlannedUse,
  units: UnitSystem,
  faults: string[],
): Basis | null {
  const criteria = criteriaOf(options, use, faults);
  const shape = faultsOf(criteriaSchema, criteria, { criteria }, (path) => ["criteria", ...path]);
  if ("faults" in shape) {
    faults.push(...shape.faults.map((fault) => asOption(fault, use)));
    return null;
  }
  const laid = layBasis({ ...NO_PROGRAM, units, criteria: shape.value });
  faults.push(...laid.faults.map((fault) => asOption(fault, use)));
  if (laid.basis === null || faults.length > 0) return null;
  return withShopChart(laid.basis, options, use, faults);
}

/** Settings of no program: the calculation asks for none of these but the units. */
const NO_PROGRAM: Settings = {
  schema: 1,
  name: "wyeplan size",
  as_of: "2000-01-01",
  units: "us",
  currency: "USD",
  laterals: {
    file: "none.csv",
    delimiter: ",",
    encoding: "utf-8",
    decimal_mark: ".",
    date_order: "month first",
    columns: {},
  },
};

type Group = { [key: string]: unknown };

/** The options as `criteria` of program.json writes them. */
function criteriaOf(options: SizeOptions, use: PlannedUse, faults: string[]): Group {
  const criteria: Group = {};
  const put = (at: readonly string[], value: unknown) => {
    let group = criteria;
    for (const part of at.slice(0, -1)) {
      const inner = (group[part] ?? {}) as Group;
      group[part] = inner;
      group = inner;
    }
    group[at.at(-1)!] = value;
  };
  for (const option of sizeOptions) {
    const text = options[option.key];
    const at = placeOf(option, use);
    if (text !== undefined && at !== null) put(at, written(text, option.as));
  }
  // A program has no one-piece liner unless it names one; a sheet that asks for one takes the house's first, and says so.
  if (use === "one-piece" && options.system === undefined)
    put(["liner_systems", use], linerSystems.find(({ uses }) => uses.includes(use))?.key);
  if (options.ovality !== undefined) put(["assumptions", "ovality"], 0);
  putLiveLoad(options, put, faults);
  putMeasured(options, use, put, faults);
  putMix(options, put, faults);
  if (together(options, ["startTemperature", "cure"], "startTemperature", faults))
    put(["cure_changes", options.cure!, "start_temperature"], options.startTemperature);
  if (together(options, ["hostN", "material"], "hostN", faults)) {
    const n = numberOf(options.hostN!);
    put(["hosts", options.material!, "roughness"], { least: n, most: n });
  }
  return criteria;
}

function written(text: string, as: SizeOption["as"]): unknown {
  switch (as) {
    case "text":
      return text;
    case "number":
      return numberOf(text);
    case "list":
      return text.split(",").map((item) => item.trim());
    default:
      return as satisfies never;
  }
}

/** The number a text is; the text itself where it is none, for the schema to say so. */
function numberOf(text: string): number | string {
  const read = readNumber(text, ".");
  return read.ok ? read.value : text;
}

type Put = (at: readonly string[], value: unknown) => void;

/** A live load somebody states is the method, unless another is named: then one of the two would be ignored. */
function putLiveLoad(
  { liveLoad, liveLoadBy, liveLoadMethod, surface }: SizeOptions,
  put: Put,
  faults: string[],
) {
  if (liveLoad === undefined) return;
  const wheels: Readonly<Record<string, string>> = houseSurfaceWheels.values;
  if (surface !== undefined && wheels[surface] === "none")
    faults.push(
      `--live-load: a ${surface} carries no wheel, so it would be ignored. Name another --surface.`,
    );
  if (liveLoadMethod !== undefined && liveLoadMethod !== "stated" && surface !== "railway")
    faults.push(`--live-load: found beside --live-load-method "${liveLoadMethod}". Take one of the two out.`);
  if (liveLoadMethod === undefined && surface !== "railway")
    put(["design_changes", "live_load_method"], "stated");
  if (liveLoadBy === undefined)
    put(["design_changes", "stated_live_load_by"], "whoever typed --live-load, not named");
}

/** Long-term values measured at a temperature come together or not at all. */
function putMeasured(options: SizeOptions, use: PlannedUse, put: Put, faults: string[]) {
  const keys = ["longTermModulus", "longTermStrength", "measuredAt"] as const;
  if (!together(options, keys, null, faults)) return;
  put(
    ["liner_systems_changes", use, "long_term_modulus_at"],
    [
      {
        temperature: options.measuredAt,
        modulus: options.longTermModulus,
        strength: options.longTermStrength,
      },
    ],
  );
}

/** A mix ratio with its basis, and pot life with its temperature. */
function putMix(options: SizeOptions, put: Put, faults: string[]) {
  const { mix, potLife, potLifeAt } = options;
  if (mix !== undefined) {
    const parts = /^([^:]+):\s*(\S+)\s*(.*)$/.exec(mix);
    const basis = parts?.[3] ?? "";
    if (parts === null || (basis !== "by weight" && basis !== "by volume"))
      faults.push(
        `--mix: found ${JSON.stringify(mix)}, expected a ratio with its basis, such as "100 : 25 by weight". ` +
          "By volume and by weight are two mixes.",
      );
    else
      put(["wet_out", "mix"], {
        base: numberOf((parts[1] ?? "").trim()),
        hardener: numberOf(parts[2] ?? ""),
        basis,
      });
  }
  if (!together(options, ["potLife", "potLifeAt"], null, faults)) return;
  const minutes = readTyped(potLife ?? "", "duration");
  if (minutes === null)
    faults.push(
      `--pot-life: found ${JSON.stringify(potLife)}, expected a time with its unit, such as "30 min".`,
    );
  else put(["wet_out", "pot_life"], { minutes, at: potLifeAt });
}

/**
 * Whether all of these options are given; a fault when only some are.
 *
 * @param needing the one that needs the others, which may stand without it; null when each needs the others
 */
function together(
  options: SizeOptions,
  keys: readonly (keyof SizeOptions)[],
  needing: keyof SizeOptions | null,
  faults: string[],
): boolean {
  const given = keys.filter((key) => options[key] !== undefined);
  if (given.length === keys.length) return true;
  if (given.length > 0 && (needing === null || given.includes(needing))) {
    const missing = keys.filter((key) => !given.includes(key)).map(flagOf);
    faults.push(`${flagOf(needing ?? given[0]!)}: needs ${missing.join(" and ")} beside it.`);
  }
  return false;
}

/** The shop's own mass for each length, for whatever size and wall come out. */
function withShopChart(
  basis: Basis,
  { resinPerLength: text }: SizeOptions,
  use: PlannedUse,
  faults: string[],
): Basis | null {
  if (text === undefined) return basis;
  const kilogramsPerMetre = readTyped(text, "linear_mass");
  if (kilogramsPerMetre === null || !(kilogramsPerMetre > 0)) {
    faults.push(
      `--resin-per-length: found ${JSON.stringify(text)}, expected a mass for each length above 0, such as "0.8 lb/ft".`,
    );
    return null;
  }
  const { stockedDiameters, stockedWalls } = chosenFor(basis.liners, use).system;
  return {
    ...basis,
    shopChart: {
      rows: stockedDiameters.flatMap((diameter) =>
        stockedWalls.map((wall) => ({ diameter, wall, kilogramsPerMetre })),
      ),
      source: {
        document: SETTINGS_FILE,
        at: "--resin-per-length",
        note: "The shop's own chart, no excess added.",
      },
    },
  };
}

/** A fault of program.json said of the option it came from. */
function asOption({ path, found, expected, remedy }: Fault, use: PlannedUse): string {
  const option = sizeOptions.find((row) => isAt(path, placeOf(row, use)));
  const flag = option === undefined ? (ofManyParts(path) ?? path.join(".")) : flagOf(option.key);
  return withFlags(`${flag}: found ${found}, expected ${expected}. ${remedy}`, use);
}

const isAt = (path: JsonPath, at: readonly string[] | null): boolean =>
  at?.every((part, i) => path[i + 1] === part) === true;

/** Options that fill a group of the criteria together. */
function ofManyParts(path: JsonPath): string | null {
  if (path.includes("long_term_modulus_at"))
    return "--long-term-modulus, --long-term-strength, --measured-at";
  if (path.includes("mix")) return "--mix";
  if (path.includes("pot_life")) return "--pot-life-at";
  if (path.includes("roughness")) return "--host-n";
  if (path.includes("cure_changes")) return "--start-temperature";
  return path.includes("ovality") ? "--ovality" : null;
}

/** Keys of program.json in a message, written as the options they are here. */
function withFlags(message: string, use: PlannedUse): string {
  let text = message.replace(/ under "design_changes"/, "").replace("Correct it here.", "Correct it.");
  for (const option of sizeOptions) {
    const key = placeOf(option, use)?.at(-1);
    if (key?.includes("_") !== true) continue;
    text = text.replaceAll(JSON.stringify(key), flagOf(option.key)).replaceAll(key, flagOf(option.key));
  }
  return text;
}
