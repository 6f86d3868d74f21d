import type { HostMaterial } from "../columns/lateral-columns.ts";
import { type DrainFlow, houseDrainFlow, slopeSets } from "../reference/drain-flow.ts";
import { type HostTable, hostTableSchema, readHosts, writtenHosts } from "../reference/hosts.ts";
import { changedSource, checkedTable } from "./changed-table.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { typedValue } from "./written-values.ts";

/** What each host material is to a liner: its roughness and the heat it bears. */
export function layHosts(settings: Settings, faults: Fault[]): HostTable | null {
  const changes = settings.criteria?.hosts;
  const at = ["criteria", "hosts"];
  const values = { ...writtenHosts.values };
  for (const [material, change] of Object.entries(changes ?? {}) as [
    HostMaterial,
    NonNullable<typeof changes>[HostMaterial],
  ][]) {
    if (change === undefined) continue;
    const host = values[material];
    const { bears, roughness } = change;
    const where = (key: string) => `${at.join(".")}.${material}.${key}`;
    const range =
      roughness === undefined
        ? null
        : { ...roughness, source: { document: "program.json", at: where("roughness") } };
    values[material] = {
      ...host,
      ...(bears === undefined
        ? {}
        : {
            bears: typedValue(bears, "temperature"),
            bearsSource: changedSource(where("bears"), host.bearsSource, "Changes bears."),
          }),
      ...(range === null ? {} : { sound: range, worn: range }),
    };
  }
  const inner: Fault[] = [];
  const checked = checkedTable(hostTableSchema, { ...writtenHosts, values }, settings, at, {}, inner);
  // The table keeps materials under `values`, and one range in two places.
  const written = inner.map((fault) =>
    faultAt(
      settings,
      fault.path
        .filter((part) => part !== "values")
        .map((part) => (part === "sound" || part === "worn" ? "roughness" : part)),
      fault.expected,
    ),
  );
  faults.push(
    ...written.filter(
      (fault, i) => written.findIndex((other) => String(other.path) === String(fault.path)) === i,
    ),
  );
  return checked === null ? null : readHosts(checked);
}

/** What the flow is checked with, and by which code. */
export function layDrainFlow(settings: Settings, faults: Fault[]): DrainFlow | null {
  const { minimum_slopes: code, self_cleansing: velocity, design_flow: own } = settings.criteria?.flow ?? {};
  const at = ["criteria", "flow"];
  const keys = slopeSets.map(({ key }) => key);
  const leastSlopes = code === undefined ? null : slopeSets.find(({ key }) => key === code);
  if (leastSlopes === undefined) {
    faults.push(
      faultAt(
        settings,
        [...at, "minimum_slopes"],
        `one of ${keys.map((key) => JSON.stringify(key)).join(", ")}`,
        keys,
      ),
    );
    return null;
  }
  const wanted = velocity === undefined ? null : typedValue(velocity, "velocity");
  const designFlow = own === undefined ? null : typedValue(own, "flow");
  if (wanted !== null && !(wanted > 0 && wanted <= 5))
    faults.push(faultAt(settings, [...at, "self_cleansing"], "above 0 and at most 5 m/s"));
  if (designFlow !== null && !(designFlow > 0 && designFlow <= 1000))
    faults.push(faultAt(settings, [...at, "design_flow"], "above 0 and at most 1000 L/s"));
  const { selfCleansing } = houseDrainFlow;
  return {
    ...houseDrainFlow,
    selfCleansing:
      wanted === null
        ? selfCleansing
        : {
            velocity: wanted,
            source: changedSource(
              [...at, "self_cleansing"].join("."),
              selfCleansing.source,
              "Changes self_cleansing.",
            ),
          },
    leastSlopes,
    designFlow,
  };
}
