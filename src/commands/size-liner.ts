import type { TreatmentKind } from "../columns/plan-columns.ts";
import { type GroundwaterHeads, groundwaterHeads } from "../engineering/groundwater.ts";
import type { LinerMaterial } from "../engineering/liner-wall.ts";
import { type NothingThickEnough, type SpecifiedWall, specifyWall } from "../engineering/specified-wall.ts";
import type { LiveLoadMethod } from "../engineering/surface-load.ts";
import type { WorstCover } from "../engineering/worst-cover.ts";
import type { Condition } from "../plan/condition.ts";
import { type CrossCheck, crossCheckWall } from "../plan/cross-check.ts";
import { type CurePlan, planCure } from "../plan/cure.ts";
import { type CureFit, fitCures } from "../plan/cure-fit.ts";
import { type Effluent, readEffluent } from "../plan/effluent.ts";
import { compareFlow, type FlowChange } from "../plan/flow.ts";
import { checkForces, type PlacingForces } from "../plan/forces.ts";
import { cutLiner, type Liner } from "../plan/liner.ts";
import { materialAt } from "../plan/liner-material.ts";
import type { Reason } from "../plan/reason.ts";
import { scopeNotes } from "../plan/scope-notes.ts";
import { stated } from "../plan/stated.ts";
import { reachNotes, reachRefusals } from "../plan/system-limits.ts";
import {
  calculateWall,
  cautionNotes,
  type DesignedWall,
  liveLoadUnder,
  type WallInputsStated,
  wallCriteria,
} from "../plan/wall.ts";
import { designWalls, ruledRefusals, stateInputs, type Walls, wallsOf } from "../plan/walls.ts";
import { type WetOut, wetOutLiner } from "../plan/wet-out.ts";
import { type Metres, metres, millimetres } from "../quantity/si.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import { isInMain, type LinerSystem, type PlannedUse } from "../reference/liner-systems.ts";
import { conditionAskingFor, type SizePipe } from "./size-pipe.ts";

/** The treatment that places a liner of a use. */
export const treatmentOf = {
  "full-length": "full-length liner",
  section: "sectional liner",
  connection: "connection liner",
  "one-piece": "one-piece liner",
} as const satisfies Record<PlannedUse, TreatmentKind>;

/** One ring with everything that led to its wall; `specified` is refused where nothing thick enough is stocked. */
export interface SizedRing {
  readonly part: "lateral" | "main";
  readonly system: LinerSystem;
  readonly material: LinerMaterial;
  readonly inputs: WallInputsStated;
  readonly liveLoad: LiveLoadMethod;
  readonly worst: WorstCover;
  readonly specified: SpecifiedWall | NothingThickEnough;
  readonly crossCheck: CrossCheck | null;
}

/** A liner cut, wet out, cured and placed. */
export interface PlacedLiner {
  readonly liner: NonNullable<Liner>;
  readonly wetOut: WetOut;
  /** Null where this cure has no schedule of the resin or the wall. */
  readonly cure: CurePlan | null;
  readonly cureFit: CureFit | null;
  readonly forces: PlacingForces;
}

export interface SizedLiner {
  readonly use: PlannedUse;
  readonly pipe: SizePipe;
  readonly basis: Basis;
  readonly effluent: Effluent;
  /** The wall's inputs, known also where no wall is designed; null without a host diameter. */
  readonly inputs: WallInputsStated | null;
  /** None where the wall is refused, two for a liner with a part in the main. */
  readonly rings: readonly SizedRing[];
  /** Why there is no wall, no stocked liner, or no way to place it. */
  readonly against: readonly Reason[];
  /** What an engineer should know and what stops no work. */
  readonly notes: readonly Reason[];
  readonly placed: PlacedLiner | null;
  readonly flow: FlowChange | null;
}

/** Runs the plan's own stages on one pipe for one use. */
export function sizeLiner(use: PlannedUse, pipe: SizePipe, basis: Basis): SizedLiner {
  const { lateral } = pipe;
  const chosen = chosenFor(basis.liners, use);
  const effluent = readEffluent(lateral, basis);
  const condition = conditionAskingFor(use, pipe.ovality, basis.treatments.thresholds);
  const walls = designWalls(lateral, condition, effluent, basis);
  const wall = walls[use];
  const { hostDiameter } = lateral;
  const inputs =
    hostDiameter === null
      ? null
      : asTyped(stateInputs(lateral, hostDiameter, condition, basis, use === "connection"), pipe);
  const found = { use, pipe, basis, effluent, inputs, placed: null, flow: null };
  const ruled = ruledRefusals(use, lateral, condition, effluent, basis);
  if (wall.kind === "not asked") throw new RangeError(`sizeLiner: no ${use} liner was asked for`);
  if (wall.kind === "refused") {
    const bare =
      ruled.length === 0 && wall.reasons.every(({ code }) => ofStock.has(code))
        ? sizeRing(use, inputs, effluent, basis)
        : null;
    return bare === null
      ? { ...found, rings: [], against: [...ruled, ...wall.reasons], notes: [] }
      : bare.kind === "refused"
        ? { ...found, rings: [], against: [...wall.reasons, bare.because], notes: [] }
        : {
            ...found,
            rings: [bare.ring],
            against: wall.reasons,
            notes: notesOf(use, pipe, bare.ring, basis),
          };
  }
  // A plan has rules that refuse these; here nothing else would.
  if (ruled.length > 0) return { ...found, rings: [], against: ruled, notes: [] };

  const rings =
    "lateralPart" in wall
      ? [ringOf("lateral", wall.lateralPart, pipe), ringOf("main", wall.mainPart, null)]
      : [ringOf("lateral", wall, pipe)];
  const designed = "lateralPart" in wall ? [wall.lateralPart, wall.mainPart] : [wall];
  return {
    ...found,
    rings,
    against: [
      ...reachRefusals(lateral, use, chosen),
      ...(fitCures(lateral, walls, basis)[use]?.against ?? []),
    ],
    notes: once(designed.flatMap(({ notes }) => notes)),
    placed: placeLiner(use, pipe, walls, basis),
    flow: flowAfter(use, pipe, walls, basis, condition),
  };
}

/** Reasons of stock and of sizes served: the equations hold all the same, so the wall is worked out and they are said. */
const ofStock: ReadonlySet<Reason["code"]> = new Set([
  "host outside system",
  "no stocked diameter",
  "no stocked wall",
]);

type BareRing =
  | { readonly kind: "ring"; readonly ring: SizedRing }
  | { readonly kind: "refused"; readonly because: Reason };

/** The wall that the equations and the specified minimum ask for, whatever is stocked; null for what has no one ring. */
function sizeRing(
  use: PlannedUse,
  inputs: WallInputsStated | null,
  effluent: Effluent,
  basis: Basis,
): BareRing | null {
  const { system } = chosenFor(basis.liners, use);
  const material = materialAt(system, effluent.temperature.value);
  if (isInMain(use) || inputs === null || material === null) return null;
  const liveLoad = liveLoadUnder(inputs.surface.value, basis);
  if (liveLoad === null) return { kind: "refused", because: { code: "rail load left to an engineer" } };
  const worst = calculateWall(inputs, liveLoad, material, basis.criteria);
  if (worst.kind === "refused")
    return { kind: "refused", because: { code: "wall design refused", refusal: worst } };
  const { wall, ovalityReduction: reduction } = worst.design;
  const minimum = millimetres(basis.criteria.minimumWall);
  const specified = specifyWall(wall, minimum, system.stockedWalls.map(millimetres));
  const crossCheck = crossCheckWall(
    {
      diameter: inputs.hostDiameter.value,
      deepestCover: metres(Math.max(inputs.coverAtHouse.value, inputs.coverAtMain.value)),
      waterTableDepth: inputs.waterTableDepth.value,
      reduction,
    },
    specified.kind === "specified" ? specified.stocked : specified.needed,
    material,
    wallCriteria(basis.criteria),
  );
  const ring = { part: "lateral", system, material, inputs, liveLoad, worst, specified, crossCheck } as const;
  return { kind: "ring", ring };
}

const ringOf = (part: SizedRing["part"], wall: DesignedWall, pipe: SizePipe | null): SizedRing => ({
  part,
  system: wall.system,
  material: wall.material,
  inputs: pipe === null ? wall.inputs : asTyped(wall.inputs, pipe),
  liveLoad: wall.liveLoad,
  worst: wall.worst,
  specified: wall.specified,
  crossCheck: wall.crossCheck,
});

/** A typed ovality of 0 reads as the floor under it: it is the typed one. */
const asTyped = (inputs: WallInputsStated, { ovality }: SizePipe): WallInputsStated =>
  ovality === null ? inputs : { ...inputs, ovality };

function notesOf(use: PlannedUse, { lateral }: SizePipe, ring: SizedRing, basis: Basis): readonly Reason[] {
  const sizes = {
    host: ring.inputs.hostDiameter.value,
    main: null,
    length: lateral.hostLength?.value ?? null,
  };
  return [
    ...scopeNotes(use, ring.system, sizes, basis.scopes),
    ...reachNotes(lateral, use),
    ...cautionNotes(ring.crossCheck, basis.criteria),
  ];
}

/** The two rings of a liner with a part in the main may give the same note. */
const once = (notes: readonly Reason[]): readonly Reason[] => {
  const said = notes.map((note) => JSON.stringify(note));
  return notes.filter((_, i) => said.indexOf(said[i]!) === i);
};

/** Null where the length of a full-length liner is not given: nothing is cut, wet out or placed. */
function placeLiner(use: PlannedUse, { lateral }: SizePipe, walls: Walls, basis: Basis): PlacedLiner | null {
  if (use === "full-length" && lateral.hostLength === null) return null;
  const chosen = chosenFor(basis.liners, use);
  const both = wallsOf(walls, use);
  const liner = cutLiner(treatmentOf[use], lateral, walls, null, basis);
  if (both === null || liner === null) throw new RangeError(`placeLiner: no ${use} liner was cut`);
  const wetOut = wetOutLiner(liner, lateral.hostDiameter?.value ?? null, chosen, basis);
  const cureFit = fitCures(lateral, walls, basis)[use];
  const unscheduled = cureFit?.against.some(
    ({ code }) => code === "resin not cured so" || code === "wall too thick to cure",
  );
  return {
    liner,
    wetOut,
    cure: unscheduled === true ? null : planCure(liner, chosen),
    cureFit,
    forces: checkForces(liner, wetOut, both, lateral, chosen, basis),
  };
}

/** The flow asks for the wall only, so a liner of any length serves where none is given. */
function flowAfter(use: PlannedUse, pipe: SizePipe, walls: Walls, basis: Basis, condition: Condition) {
  const lateral = {
    ...pipe.lateral,
    hostLength: pipe.lateral.hostLength ?? stated(metres(1), "assumed" as const),
  };
  const liner = cutLiner(treatmentOf[use], lateral, walls, null, basis);
  if (liner === null) throw new RangeError(`flowAfter: no ${use} liner was cut`);
  const sound = stated(0, "decided" as const, "--host-condition");
  return compareFlow(
    liner,
    lateral,
    pipe.isWorn ? { structural: null, om: null } : { structural: sound, om: condition.om },
    basis,
  );
}

/** Water over the crown and over the invert under a cover, for the sheet's substitutions. */
export const headsAt = ({ inputs }: SizedRing, cover: Metres): GroundwaterHeads =>
  groundwaterHeads(
    { kind: "table", depthBelowSurface: inputs.waterTableDepth.value },
    cover,
    inputs.hostDiameter.value,
  );
