import type { Surface } from "../columns/lateral-columns.ts";
import {
  type LinerMaterial,
  retainedMaterial,
  type WallCriteria,
  type WallRefusal,
} from "../engineering/liner-wall.ts";
import { type SpecifiedWall, specifyWall } from "../engineering/specified-wall.ts";
import type { LiveLoadMethod } from "../engineering/surface-load.ts";
import { findWorstCover, type WorstCover } from "../engineering/worst-cover.ts";
import {
  type Fraction,
  fraction,
  kilonewtonsPerCubicMetre,
  type Metres,
  type Millimetres,
  megapascals,
  metres,
  millimetres,
} from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Condition } from "./condition.ts";
import type { Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import { orAssumed, type Stated, stated } from "./stated.ts";

/** What the wall was designed for, each value with where it comes from. */
export interface WallInputsStated {
  readonly hostDiameter: Stated<Millimetres>;
  readonly ovality: Stated<Fraction>;
  readonly coverAtHouse: Stated<Metres>;
  readonly coverAtMain: Stated<Metres>;
  readonly waterTableDepth: Stated<Metres>;
  readonly surface: Stated<Surface>;
}

export interface DesignedWall {
  readonly kind: "designed";
  readonly inputs: WallInputsStated;
  /** Stocked liner diameter for this host. */
  readonly nominalDiameter: Millimetres;
  readonly worst: WorstCover;
  readonly specified: SpecifiedWall;
}

export interface RefusedWall {
  readonly kind: "refused";
  readonly reasons: readonly Reason[];
}

/** Greatest DR of a partially deteriorated design. From memory of ASTM F1216, unverified. */
const LARGEST_RATIO = 100;

/**
 * The wall a liner needs in this host: ASTM F1216 Appendix X1 at the worst cover along the lateral, then the
 * specified minimum, then the next stocked thickness. Fully deteriorated unless the criteria say otherwise: grades
 * alone never prove that host and soil carry.
 */
export function designHostWall(
  lateral: Lateral,
  condition: Condition,
  basis: Basis,
): DesignedWall | RefusedWall {
  const { hostDiameter } = lateral;
  if (hostDiameter === null) return { kind: "refused", reasons: [{ code: "host diameter unknown" }] };
  const { system, criteria } = basis;
  const nominalDiameter = nominalFor(hostDiameter.value, system.stockedDiameters, system.diameterTolerance);
  if (nominalDiameter === null) {
    return {
      kind: "refused",
      reasons: [
        { code: "no stocked diameter", diameter: hostDiameter.value, stocked: system.stockedDiameters },
      ],
    };
  }

  const inputs = stateInputs(lateral, hostDiameter, condition, basis);
  const worst = calculateWall(inputs, liveLoadUnder(inputs.surface.value, basis), basis);
  if (worst.kind === "refused") {
    return {
      kind: "refused",
      reasons: [{ code: "wall design refused", refusal: worst }],
    };
  }
  const specified = specifyWall(
    worst.design.wall,
    millimetres(criteria.minimumWall),
    system.stockedWalls.map(millimetres),
  );
  if (specified.kind === "refused") {
    return { kind: "refused", reasons: [{ code: "no stocked wall", refusal: specified }] };
  }
  return { kind: "designed", inputs, nominalDiameter, worst, specified };
}

/** The wall the equations ask for at the worst cover along the lateral, under one live load. */
export function calculateWall(
  inputs: WallInputsStated,
  liveLoad: LiveLoadMethod,
  basis: Pick<Basis, "criteria" | "system">,
): WorstCover | WallRefusal {
  const { criteria } = basis;
  return findWorstCover({
    deterioration: criteria.deterioration,
    hostDiameter: inputs.hostDiameter.value,
    ovality: inputs.ovality.value,
    coverAtHouse: inputs.coverAtHouse.value,
    coverAtMain: inputs.coverAtMain.value,
    groundwater: { kind: "table", depthBelowSurface: inputs.waterTableDepth.value },
    soilUnitWeight: kilonewtonsPerCubicMetre(criteria.soilUnitWeight),
    soilModulus: megapascals(criteria.soilModulus),
    liveLoad,
    material: linerMaterial(basis),
    criteria: wallCriteria(basis),
  });
}

/** Short- and long-term properties of the program's liner system. */
export const linerMaterial = ({ system }: Pick<Basis, "system">): LinerMaterial =>
  retainedMaterial(
    megapascals(system.shortTermModulus),
    megapascals(system.flexuralStrength),
    fraction(system.modulusRetention),
    fraction(system.strengthRetention),
  );

/** The criteria in the form the equations take. */
export const wallCriteria = ({ criteria }: Pick<Basis, "criteria">): WallCriteria => ({
  edition: criteria.edition,
  strengthBasis: criteria.strengthBasis,
  enhancement: criteria.enhancement,
  poissonsRatio: criteria.poissonsRatio,
  safetyFactor: criteria.safetyFactor,
  largestRatio: LARGEST_RATIO,
});

/**
 * The live load under a surface by the method the criteria name.
 *
 * @throws RangeError when the criteria name a wheel, impact or depth table that does not exist; settings are checked for that.
 */
export function liveLoadUnder(
  surface: Surface,
  { criteria, surfaceWheels, liveLoads }: Pick<Basis, "criteria" | "surfaceWheels" | "liveLoads">,
): LiveLoadMethod {
  const wheelName =
    surfaceWheels.values[surface] === "design" ? criteria.wheel : surfaceWheels.values[surface];
  if (wheelName === "none") return { kind: "none" };
  const wheel = named(liveLoads.wheels, wheelName, "wheel");
  switch (criteria.liveLoadMethod) {
    case "none":
      return { kind: "none" };
    case "boussinesq":
      return {
        kind: "boussinesq",
        wheel,
        impact: named(liveLoads.impact, criteria.impactTable, "impact table"),
        loadedLength: liveLoads.loadedLength,
      };
    case "spread":
      return {
        kind: "spread",
        wheel,
        spread: { ...liveLoads.spread, growth: named(liveLoads.spread.growth, "other", "load spread") },
      };
    case "depth table": {
      const table = Object.values(liveLoads.depthTables)[0];
      if (table === undefined) throw new RangeError("liveLoadUnder: no depth table");
      return { kind: "depth table", table };
    }
    default:
      return criteria.liveLoadMethod satisfies never;
  }
}

/** The stocked diameter nearest to the host's, within the tolerance; null when the host is between sizes. */
export function nominalFor(
  diameter: Millimetres,
  stocked: readonly number[],
  tolerance: number,
): Millimetres | null {
  let nearest: number | null = null;
  for (const size of stocked) {
    if (nearest === null || Math.abs(size - diameter) < Math.abs(nearest - diameter)) nearest = size;
  }
  return nearest !== null && Math.abs(nearest - diameter) <= tolerance * nearest
    ? millimetres(nearest)
    : null;
}

function stateInputs(
  lateral: Lateral,
  hostDiameter: Stated<Millimetres>,
  condition: Condition,
  { assumptions }: Basis,
): WallInputsStated {
  const cover = { ...assumptions.cover, value: metres(assumptions.cover.value) };
  const floor = assumptions.ovality;
  const measured = condition.ovality;
  return {
    hostDiameter,
    ovality:
      measured !== null && measured.value > floor.value
        ? measured
        : stated(
            fraction(floor.value),
            "assumed",
            measured === null ? floor.label : `${floor.label}, measured less`,
          ),
    coverAtHouse: lateral.coverAtHouse ?? sameCover(lateral.coverAtMain) ?? orAssumed(null, cover),
    coverAtMain: lateral.coverAtMain ?? sameCover(lateral.coverAtHouse) ?? orAssumed(null, cover),
    waterTableDepth: orAssumed(lateral.waterTableDepth, {
      ...assumptions.water_table_depth,
      value: metres(assumptions.water_table_depth.value),
    }),
    surface: orAssumed(lateral.surface, assumptions.surface),
  };
}

/** One known end stands for both. */
const sameCover = (known: Stated<Metres> | null): Stated<Metres> | null =>
  known === null ? null : stated(known.value, "assumed", "cover of the other end");

function named<T>(table: Readonly<Record<string, T>>, name: string, what: string): T {
  const found = table[name];
  if (found === undefined) throw new RangeError(`no ${what} named ${JSON.stringify(name)}`);
  return found;
}
