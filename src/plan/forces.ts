import { groundwaterHeads, WATER_UNIT_WEIGHT } from "../engineering/groundwater.ts";
import {
  type InflationWindow,
  inflationWindow,
  judgePull,
  type Pull,
  type PullSegment,
  type PullVerdict,
  pullTube,
} from "../engineering/installation-force.ts";
import { type Fraction, fraction, kilopascals, type Metres, metres, newtons } from "../quantity/si.ts";
import type { Basis, ChosenLiner } from "../reference/basis.ts";
import type { Placing } from "../reference/placing-methods.ts";
import type { Lateral } from "./lateral.ts";
import type { Liner } from "./liner.ts";
import { type Stated, stated } from "./stated.ts";
import type { DesignedWall } from "./wall.ts";
import type { LinerWalls } from "./walls.ts";
import type { WetOut } from "./wet-out.ts";

/** Forces and pressures of placing one liner. */
export interface PlacingForces {
  readonly method: Placing;
  /** Null where nothing is pulled through the lateral. */
  readonly pull: PullCheck | null;
  readonly inflation: InflationCheck;
}

export interface PullCheck {
  /** Bends along the pull, with the turn and slope taken; each says what is assumed. */
  readonly bends: Stated<number>;
  readonly bendDegrees: Stated<number>;
  readonly slope: Stated<Fraction>;
  readonly newtonsPerMetre: number;
  readonly pull: Pull;
  readonly verdict: PullVerdict;
}

export interface InflationCheck {
  /** Water over the invert at the deepest end, m. */
  readonly groundwaterHead: number;
  readonly window: InflationWindow;
  /** The trap seal as a pressure, kPa: what the building's traps bear when they are left open to it. */
  readonly trapSeal: number;
  /** The building is plugged off, so that its trap seals do not limit the pressure. */
  readonly isolated: boolean;
}

/** Standard gravity, exact by definition (CGPM 1901). */
const NEWTONS_PER_KILOGRAM = 9.80665;

/**
 * Pull and inflation pressures of placing a liner. Limits are assumptions until the maker's and the
 * crew's own stand in the settings, so a verdict here is a caution and forbids nothing.
 */
export function checkForces(
  liner: NonNullable<Liner>,
  wetOut: WetOut,
  rings: LinerWalls,
  lateral: Pick<Lateral, "bends" | "sharpestBend" | "slope">,
  { placing: method }: Pick<ChosenLiner, "placing">,
  { placing }: Pick<Basis, "placing">,
): PlacingForces {
  return {
    method,
    pull: method.pull === null ? null : checkPull(liner, wetOut, method.pull, rings[0], lateral, placing),
    inflation: checkInflation(rings, placing),
  };
}

function checkPull(
  liner: NonNullable<Liner>,
  wetOut: WetOut,
  pull: NonNullable<Placing["pull"]>,
  wall: DesignedWall,
  lateral: Pick<Lateral, "bends" | "sharpestBend" | "slope">,
  { path }: Basis["placing"],
): PullCheck {
  const because = "path of the pull";
  const bends = lateral.bends ?? stated(path.bends, "assumed", because);
  const bendDegrees = lateral.sharpestBend ?? stated(path.bendDegrees, "assumed", because);
  const slope = lateral.slope ?? stated(fraction(path.slope), "assumed", because);
  // Resin over the voids is squeezed on or drips off; all of it is counted, which is the heavy side.
  const newtonsPerMetre = ((wetOut.mixed.mass + wetOut.fibre) * NEWTONS_PER_KILOGRAM) / liner.cutLength;
  const diameter = wall.inputs.hostDiameter.value;
  const bend: PullSegment = {
    kind: "bend",
    turnDegrees: bendDegrees.value,
    radius: metres((path.radiusInDiameters * diameter) / 1000),
  };
  const segments: PullSegment[] = [
    {
      kind: "straight",
      length: liner.cutLength,
      // A winch at the main pulls with the fall, one at the house against it.
      rise: pull.winchAt === "main" ? -slope.value : slope.value,
    },
    ...Array.from({ length: bends.value }, () => bend),
  ];
  const found = pullTube(segments, {
    newtonsPerMetre,
    friction: pull.friction,
    ropeFriction: pull.ropeFriction,
    tailTension: newtons(pull.holdBack),
  });
  return {
    bends,
    bendDegrees,
    slope,
    newtonsPerMetre,
    pull: found,
    verdict: judgePull(found, { winch: newtons(pull.winchLimit), tube: newtons(pull.tubeLimit) }),
  };
}

/** Water over the invert of a ring at its deepest end. */
function headOver({ inputs }: DesignedWall): Metres {
  const deepest = metres(Math.max(inputs.coverAtHouse.value, inputs.coverAtMain.value));
  const water = { kind: "table", depthBelowSurface: inputs.waterTableDepth.value } as const;
  return groundwaterHeads(water, deepest, inputs.hostDiameter.value).overInvert;
}

/** A part in the main is inflated with the lateral's, and the main's invert is the deeper where their crowns are level. */
function checkInflation(rings: LinerWalls, { inflation }: Basis["placing"]): InflationCheck {
  const heads = rings.map(headOver);
  const groundwaterHead = metres(Math.max(...heads));
  const trapSeal = (WATER_UNIT_WEIGHT * inflation.trapSeal) / 1000;
  const isolated = inflation.building === "isolated";
  const window = inflationWindow(
    { groundwater: groundwaterHead, branches: metres(inflation.branchHead) },
    kilopascals(inflation.margin),
    {
      host: kilopascals(isolated ? inflation.host : Math.min(inflation.host, trapSeal)),
      bladder: kilopascals(inflation.bladder),
    },
  );
  return { groundwaterHead, window, trapSeal, isolated };
}
