import {
  capacityRatio,
  type FlowState,
  fixtureUnitCapacity,
  isSelfCleansing,
  leastSlope,
  partFullFlow,
  slopeForVelocity,
} from "../engineering/flow.ts";
import {
  type Fraction,
  fraction,
  type LitresPerSecond,
  litresPerSecond,
  type Millimetres,
  metresPerSecond,
  millimetres,
} from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Roughness } from "../reference/hosts.ts";
import type { Condition } from "./condition.ts";
import type { Lateral } from "./lateral.ts";
import type { Liner } from "./liner.ts";
import { type Stated, stated } from "./stated.ts";

/** What lining does to the flow of a lateral. */
export interface FlowChange {
  readonly bore: Millimetres;
  readonly capacity: CapacityChange;
  /** Null where the program names no code, or the code says nothing of the size. */
  readonly slope: SlopeCheck | null;
  readonly design: DesignFlowCheck;
}

export interface CapacityChange {
  /** Full-pipe capacity after over before with the same n: what the lost bore alone does. */
  readonly equalRoughness: number;
  /**
   * The same with the host's own n and the liner's, each at the same end of its range; null for a host of unknown material.
   * `least` is the less favourable end.
   */
  readonly ownRoughness: { readonly least: number; readonly most: number; readonly host: Roughness } | null;
  /** Whether the pipe carries less on equal n, and even with the smoother liner (null: not known). */
  readonly loses: { readonly onEqualRoughness: boolean; readonly evenSmoother: boolean | null };
}

export interface SlopeCheck {
  readonly code: string;
  readonly asked: Fraction;
  /** Null where the slope is not given. */
  readonly met: boolean | null;
}

export type MissingForFlow = "slope" | "fixture units" | "fixture units within the table" | "host material";

export type DesignFlowCheck =
  | { readonly kind: "not computed"; readonly missing: readonly MissingForFlow[] }
  | {
      readonly kind: "computed";
      readonly slope: Stated<Fraction>;
      readonly flow: Stated<LitresPerSecond>;
      readonly before: FlowState;
      readonly after: FlowState;
      /** Whether the design flow carries its solids, before and after; false where it runs full. */
      readonly cleansing: { readonly before: boolean; readonly after: boolean };
      /** Slope at which the lined pipe, half full, reaches the self-cleansing velocity. */
      readonly cleansingSlope: Fraction;
      readonly units: FixtureUnitCheck | null;
    };

/** The code's table read at the host's size and at the lined bore; null cells are smaller or flatter than the table. */
export interface FixtureUnitCheck {
  readonly given: number;
  readonly before: number | null;
  readonly after: number | null;
  /** Null where the lined bore is not in the table. */
  readonly adequate: boolean | null;
}

/** Capacity and flow before and after a liner. Where a section lies, it is the narrowest place. */
export function compareFlow(
  liner: NonNullable<Liner>,
  lateral: Pick<Lateral, "hostDiameter" | "hostMaterial" | "slope" | "fixtureUnits" | "id">,
  condition: Pick<Condition, "structural" | "om">,
  { hosts, drainFlow }: Pick<Basis, "hosts" | "drainFlow">,
): FlowChange {
  const host = lateral.hostDiameter?.value;
  if (host === undefined) throw new RangeError(`compareFlow: a liner in ${lateral.id}, of unknown diameter`);
  const bore = millimetres(host - 2 * liner.wall);
  const roughness = hostRoughness(lateral, condition, hosts);
  return {
    bore,
    capacity: compareCapacity(host, liner.wall, roughness, hosts.liner),
    slope: checkSlope(bore, lateral.slope?.value ?? null, drainFlow),
    design: checkDesignFlow(host, bore, lateral, roughness, { hosts, drainFlow }),
  };
}

function compareCapacity(
  host: Millimetres,
  wall: Millimetres,
  roughness: Roughness | null,
  liner: Roughness,
): CapacityChange {
  const equalRoughness = capacityRatio(host, wall, liner.least, liner.least);
  const onEqualRoughness = equalRoughness < 1;
  if (roughness === null)
    return { equalRoughness, ownRoughness: null, loses: { onEqualRoughness, evenSmoother: null } };
  // A footnote of the handbook's table: the liner's n from the same end of its range as the host's.
  const ends = [
    capacityRatio(host, wall, roughness.least, liner.least),
    capacityRatio(host, wall, roughness.most, liner.most),
  ];
  const least = Math.min(...ends);
  return {
    equalRoughness,
    ownRoughness: { least, most: Math.max(...ends), host: roughness },
    loses: { onEqualRoughness, evenSmoother: least < 1 },
  };
}

/** The host's n by material and condition; null for an unknown material. A host never graded counts as worn. */
function hostRoughness(
  { hostMaterial }: Pick<Lateral, "hostMaterial">,
  { structural, om }: Pick<Condition, "structural" | "om">,
  hosts: Basis["hosts"],
): Roughness | null {
  if (hostMaterial === null) return null;
  const host = hosts.values[hostMaterial.value];
  const grades = [structural, om].flatMap((grade) => (grade === null ? [] : [grade.value]));
  const worn = grades.length === 0 || Math.max(...grades) >= hosts.wornFrom.grade;
  return worn ? host.worn : host.sound;
}

function checkSlope(
  bore: Millimetres,
  slope: Fraction | null,
  { leastSlopes, sizeSlack }: Basis["drainFlow"],
): SlopeCheck | null {
  if (leastSlopes === null) return null;
  const rules = leastSlopes.rules.map(({ upTo, slope: asked }) => ({
    upTo: upTo === null ? null : millimetres(upTo),
    slope: fraction(asked),
  }));
  const asked = leastSlope(bore, rules, fraction(sizeSlack.value));
  if (asked === null) return null;
  // A slope worked out from levels may differ from 1/8 in/ft in its last bits.
  return { code: leastSlopes.key, asked, met: slope === null ? null : slope >= asked * (1 - 1e-9) };
}

function checkDesignFlow(
  host: Millimetres,
  bore: Millimetres,
  lateral: Pick<Lateral, "slope" | "fixtureUnits">,
  roughness: Roughness | null,
  { hosts, drainFlow }: Pick<Basis, "hosts" | "drainFlow">,
): DesignFlowCheck {
  const { slope, fixtureUnits } = lateral;
  const flow = designFlow(fixtureUnits, drainFlow);
  const missing: MissingForFlow[] = [];
  // A level pipe has no flow by slope: it is as good as not given.
  if (slope === null || slope.value <= 0) missing.push("slope");
  if (flow === null) missing.push(fixtureUnits === null ? "fixture units" : "fixture units within the table");
  if (roughness === null) missing.push("host material");
  if (slope === null || slope.value <= 0 || flow === null || roughness === null)
    return { kind: "not computed", missing };

  // The rough ends: deeper, slower.
  const before = partFullFlow(flow.value, { diameter: host, roughness: roughness.most, slope: slope.value });
  const after = partFullFlow(flow.value, { diameter: bore, roughness: hosts.liner.most, slope: slope.value });
  const least = metresPerSecond(drainFlow.selfCleansing.velocity);
  const cleanses = (state: FlowState) => state.kind === "part full" && isSelfCleansing(state.velocity, least);
  return {
    kind: "computed",
    slope,
    flow,
    before,
    after,
    cleansing: { before: cleanses(before), after: cleanses(after) },
    cleansingSlope: slopeForVelocity(bore, hosts.liner.most, least),
    units:
      fixtureUnits === null
        ? null
        : checkFixtureUnits(fixtureUnits.value, host, bore, slope.value, drainFlow),
  };
}

/** Flow of the fixture units, straight between rows of the table; the program's own flow where none are given. */
function designFlow(
  units: Lateral["fixtureUnits"],
  { demand, designFlow: own }: Basis["drainFlow"],
): Stated<LitresPerSecond> | null {
  if (units === null || units.value <= 0)
    return own === null
      ? null
      : stated(litresPerSecond(own), "assumed", "the program's design flow of a lateral");
  const { rows } = demand;
  const above = rows.findIndex((row) => row.units >= units.value);
  const upper = rows[above];
  if (upper === undefined) return null;
  const lower = rows[above - 1];
  // Fewer units than the table starts with: its first flow, the safe side.
  const share = lower === undefined ? 1 : (units.value - lower.units) / (upper.units - lower.units);
  const from = lower?.flow ?? upper.flow;
  return stated(
    litresPerSecond(from + share * (upper.flow - from)),
    "estimated",
    `from ${units.value} fixture units`,
  );
}

function checkFixtureUnits(
  given: number,
  host: Millimetres,
  bore: Millimetres,
  slope: Fraction,
  { capacity, sizeSlack }: Basis["drainFlow"],
): FixtureUnitCheck {
  const table = capacity.values.map((cell) => ({
    diameter: millimetres(cell.diameter),
    slope: fraction(cell.slope),
    units: cell.units,
  }));
  const slack = fraction(sizeSlack.value);
  const before = fixtureUnitCapacity(host, slope, table, slack);
  const after = fixtureUnitCapacity(bore, slope, table, slack);
  return { given, before, after, adequate: after === null ? null : given <= after };
}
