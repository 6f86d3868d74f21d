import type { Surface } from "../columns/lateral-columns.ts";
import type { LinerMaterial, WallCriteria, WallRefusal } from "../engineering/liner-wall.ts";
import { type SpecifiedWall, specifyWall } from "../engineering/specified-wall.ts";
import type { LiveLoadMethod, Wheel } from "../engineering/surface-load.ts";
import { findWorstCover, type WorstCover } from "../engineering/worst-cover.ts";
import { onceFor } from "../quantity/once-for.ts";
import {
  type Fraction,
  kilonewtonsPerCubicMetre,
  kilopascals,
  type Metres,
  type Millimetres,
  megapascals,
  metres,
  millimetres,
  newtons,
} from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { RAIL } from "../reference/design-criteria.ts";
import type { LinerSystem } from "../reference/liner-systems.ts";
import { type CrossCheck, crossCheckWall } from "./cross-check.ts";
import type { Reason } from "./reason.ts";
import type { Stated } from "./stated.ts";

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
  readonly system: LinerSystem;
  readonly material: LinerMaterial;
  readonly inputs: WallInputsStated;
  /** Stocked liner diameter for this host; the main's own for a part in the main. */
  readonly nominalDiameter: Millimetres;
  readonly liveLoad: LiveLoadMethod;
  readonly worst: WorstCover;
  readonly specified: SpecifiedWall;
  /** DR of the wall ordered. */
  readonly dimensionRatio: number;
  /** The second opinion; null without outside water. */
  readonly crossCheck: CrossCheck | null;
  /** What an engineer should know and what stops no work. */
  readonly notes: readonly Reason[];
}

export interface RefusedWall {
  readonly kind: "refused";
  readonly reasons: readonly Reason[];
}

/** Greatest DR of a partially deteriorated design. From memory of ASTM F1216, unverified. */
const LARGEST_RATIO = 100;

/** One ring to design: a liner in a lateral, or its part in a main. */
export interface RingToDesign {
  readonly system: LinerSystem;
  readonly material: LinerMaterial;
  readonly inputs: WallInputsStated;
  readonly nominalDiameter: Millimetres;
  readonly stockedWalls: readonly number[];
  /** Those of the liner that this ring is of: asked when somebody wants to read them. */
  readonly notes: () => readonly Reason[];
}

/**
 * The wall of one ring: ASTM F1216 Appendix X1 at the worst cover along the run, then the specified minimum, then the
 * next stocked thickness, with the second opinion beside it. Fully deteriorated unless the criteria say otherwise:
 * grades alone never prove that host and soil carry.
 */
export function designRing(ring: RingToDesign, basis: LoadBasis): DesignedWall | RefusedWall {
  const { material, inputs } = ring;
  const { criteria } = basis;
  const liveLoad = liveLoadUnder(inputs.surface.value, basis);
  if (liveLoad === null) return refuse({ code: "rail load left to an engineer" });
  const worst = calculateWall(inputs, liveLoad, material, criteria);
  if (worst.kind === "refused") return refuse({ code: "wall design refused", refusal: worst });
  const specified = specifyWall(
    worst.design.wall,
    millimetres(criteria.minimumWall),
    ring.stockedWalls as readonly Millimetres[],
  );
  if (specified.kind === "refused") return refuse({ code: "no stocked wall", refusal: specified });

  return new DesignedRing(ring, liveLoad, worst, specified, criteria);
}

/**
 * A wall whose second opinion and notes are worked out when somebody asks. Put together for every lateral the notes took a third of the time of
 * its walls, and the opinions on walls that are not chosen a fifth of the rest.
 */
class DesignedRing implements DesignedWall {
  readonly kind = "designed";
  readonly system: LinerSystem;
  readonly material: LinerMaterial;
  readonly inputs: WallInputsStated;
  readonly nominalDiameter: Millimetres;
  readonly liveLoad: LiveLoadMethod;
  readonly worst: WorstCover;
  readonly specified: SpecifiedWall;
  readonly dimensionRatio: number;
  readonly #notes: () => readonly Reason[];
  readonly #criteria: Basis["criteria"];
  #crossCheck: CrossCheck | null | undefined = undefined;

  constructor(
    ring: Omit<RingToDesign, "stockedWalls">,
    liveLoad: LiveLoadMethod,
    worst: WorstCover,
    specified: SpecifiedWall,
    criteria: Basis["criteria"],
  ) {
    this.system = ring.system;
    this.material = ring.material;
    this.inputs = ring.inputs;
    this.nominalDiameter = ring.nominalDiameter;
    this.liveLoad = liveLoad;
    this.worst = worst;
    this.specified = specified;
    this.dimensionRatio = ring.inputs.hostDiameter.value / specified.stocked;
    this.#notes = ring.notes;
    this.#criteria = criteria;
  }

  get crossCheck(): CrossCheck | null {
    if (this.#crossCheck !== undefined) return this.#crossCheck;
    const { inputs, worst, specified, material } = this;
    this.#crossCheck = crossCheckWall(
      {
        diameter: inputs.hostDiameter.value,
        deepestCover: metres(Math.max(inputs.coverAtHouse.value, inputs.coverAtMain.value)),
        waterTableDepth: inputs.waterTableDepth.value,
        reduction: worst.design.ovalityReduction,
      },
      specified.stocked,
      material,
      wallCriteria(this.#criteria),
    );
    return this.#crossCheck;
  }

  get notes(): readonly Reason[] {
    return [...this.#notes(), ...cautionNotes(this.crossCheck, this.#criteria)];
  }
}

/** The same ring in a liner with notes of its own. */
export const withNotes = (
  { system, material, inputs, nominalDiameter, liveLoad, worst, specified }: DesignedWall,
  notes: RingToDesign["notes"],
  criteria: Basis["criteria"],
): DesignedWall =>
  new DesignedRing(
    { system, material, inputs, nominalDiameter, notes },
    liveLoad,
    worst,
    specified,
    criteria,
  );

/** That K is not on the safe side of the second opinion, where it is not. */
export const cautionNotes = (
  crossCheck: CrossCheck | null,
  criteria: Basis["criteria"],
): readonly Reason[] =>
  crossCheck?.caution === true
    ? [
        {
          code: "enhancement not on the safe side",
          enhancement: criteria.enhancement,
          implied: Math.min(crossCheck.impliedEnhancement, crossCheck.impliedAtOrdered),
          exceedsOrdered: crossCheck.exceedsOrdered,
        },
      ]
    : [];

export const refuse = (...reasons: readonly Reason[]): RefusedWall => ({ kind: "refused", reasons });

/** The wall the equations ask for at the worst cover along the run, under one live load. */
export function calculateWall(
  inputs: WallInputsStated,
  liveLoad: LiveLoadMethod,
  material: LinerMaterial,
  criteria: Basis["criteria"],
): WorstCover | WallRefusal {
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
    material,
    criteria: wallCriteria(criteria),
  });
}

/** The criteria in the form the equations take: one object for all rings. */
export const wallCriteria = onceFor(
  (criteria: Basis["criteria"]): WallCriteria => ({
    edition: criteria.edition,
    strengthBasis: criteria.strengthBasis,
    enhancement: criteria.enhancement,
    poissonsRatio: criteria.poissonsRatio,
    safetyFactor: criteria.safetyFactor,
    largestRatio: LARGEST_RATIO,
  }),
);

/**
 * The live load under a surface by the method the criteria name; null under a railway whose load nobody has stated.
 * Service loads only: the safety factor N of the equations is the one factor.
 *
 * @throws RangeError when the criteria name a wheel, table or soil that does not exist; settings are checked for that.
 */
export function liveLoadUnder(surface: Surface, basis: LoadBasis): LiveLoadMethod | null {
  const { criteria, surfaceWheels, liveLoads } = basis;
  if (
    methods.criteria !== criteria ||
    methods.surfaceWheels !== surfaceWheels ||
    methods.liveLoads !== liveLoads
  )
    methods = { criteria, surfaceWheels, liveLoads, under: new Map() };
  let method = methods.under.get(surface);
  if (method === undefined) {
    method = methodUnder(surface, basis);
    methods.under.set(surface, method);
  }
  return method;
}

type LoadBasis = Pick<Basis, "criteria" | "surfaceWheels" | "liveLoads">;

/** The methods of the program asked about last: one record for all rings under a surface. */
let methods: Partial<LoadBasis> & { readonly under: Map<Surface, LiveLoadMethod | null> } = {
  under: new Map(),
};

function methodUnder(
  surface: Surface,
  { criteria, surfaceWheels, liveLoads }: LoadBasis,
): LiveLoadMethod | null {
  const assigned = surfaceWheels.values[surface];
  const wheelName = assigned === "design" ? criteria.wheel : assigned;
  if (wheelName === "none") return { kind: "none" };
  const stated = criteria.statedLiveLoad;
  if (wheelName === RAIL) return stated === null ? null : { kind: "stated", pressure: kilopascals(stated) };
  switch (criteria.liveLoadMethod) {
    case "none":
      return { kind: "none" };
    case "stated":
      if (stated === null) throw new RangeError('liveLoadUnder: method "stated" without a stated live load');
      return { kind: "stated", pressure: kilopascals(stated) };
    case "boussinesq":
      return {
        kind: "boussinesq",
        wheel: reduced(named(liveLoads.wheels, wheelName, "wheel"), criteria.liveLoadReduction),
        impact: named(liveLoads.impact, criteria.impactTable, "impact table"),
        loadedLength: liveLoads.loadedLength,
      };
    case "spread":
      return {
        kind: "spread",
        wheel: reduced(named(liveLoads.wheels, wheelName, "wheel"), criteria.liveLoadReduction),
        spread: {
          ...liveLoads.spread,
          growth: named(liveLoads.spread.growth, criteria.spreadSoil, "load spread"),
        },
      };
    case "depth table":
      return {
        kind: "depth table",
        table: named(liveLoads.depthTables, criteria.depthTable, "depth table"),
      };
    default:
      return criteria.liveLoadMethod satisfies never;
  }
}

/** The reduction factor R multiplies the wheel's load. */
const reduced = (wheel: Wheel, factor: number): Wheel =>
  factor === 1 ? wheel : { ...wheel, load: newtons(wheel.load * factor) };

function named<T>(table: Readonly<Record<string, T>>, name: string, what: string): T {
  const found = table[name];
  if (found === undefined) throw new RangeError(`no ${what} named ${JSON.stringify(name)}`);
  return found;
}
