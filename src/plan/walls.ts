import { type ConnectionTakeoff, sizeConnectionLiner } from "../engineering/connection-liner.ts";
import { nominalFor } from "../engineering/nominal-size.ts";
import { LARGEST_OVALITY } from "../engineering/ovality.ts";
import { type Fraction, fraction, type Millimetres, metres, millimetres } from "../quantity/si.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import { isInMain, type LinerSystem, type PlannedUse } from "../reference/liner-systems.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Condition } from "./condition.ts";
import { assumedDepth, houseCover, mainCover } from "./cover.ts";
import type { Effluent } from "./effluent.ts";
import type { Lateral } from "./lateral.ts";
import { materialAt } from "./liner-material.ts";
import { NO_WALLS, NOT_ASKED } from "./no-walls.ts";
import type { Reason } from "./reason.ts";
import { scopeNotes } from "./scope-notes.ts";
import { orAssumed, type Stated, stated } from "./stated.ts";
import { effluentRefusals, reachNotes } from "./system-limits.ts";
import {
  type DesignedWall,
  designRing,
  type RefusedWall,
  refuse,
  type WallInputsStated,
  withNotes,
} from "./wall.ts";

/** The surveys ask for no such liner, or the program names no system of it, so no wall was designed. */
export interface WallNotAsked {
  readonly kind: "not asked";
}
export type Wall = DesignedWall | RefusedWall | WallNotAsked;

/** A liner with a part in the main has two rings: one in the lateral and one in the main. */
export interface ConnectionWalls {
  readonly kind: "designed";
  readonly lateralPart: DesignedWall;
  readonly mainPart: DesignedWall;
  readonly takeoff: Extract<ConnectionTakeoff, { kind: "sized" }>;
}

/** The walls that liners in this lateral would need, each with the system the program chose for the use. */
export interface Walls {
  readonly "full-length": Wall;
  readonly section: Wall;
  readonly connection: ConnectionWalls | RefusedWall | WallNotAsked;
  readonly "one-piece": ConnectionWalls | RefusedWall | WallNotAsked;
}

/** Every wall of one liner, that in the lateral first. */
export type LinerWalls = readonly [inLateral: DesignedWall, ...inMain: DesignedWall[]];

/** Null where none was designed. */
export function wallsOf(walls: Walls, use: PlannedUse): LinerWalls | null {
  const wall = walls[use];
  if (wall.kind !== "designed") return null;
  return "lateralPart" in wall ? [wall.lateralPart, wall.mainPart] : [wall];
}

/** The worst grade there is: a pipe in it may lack part of its wall. */
const WORST_GRADE = 5;

/**
 * Walls for each use of liner, only where the surveys could ask for one or a person decided one: most laterals
 * need none, and a design costs more than all the rest of the plan.
 */
export function designWalls(lateral: Lateral, condition: Condition, effluent: Effluent, basis: Basis): Walls {
  const { lineFromStructural, connectionFrom } = basis.treatments.thresholds;
  const decided = lateral.decided.treatment?.value;
  const works: readonly WorkKind[] = decided === undefined ? [] : basis.treatments.works[decided];
  const line =
    isAtLeast(condition.structural, lineFromStructural) ||
    works.includes("full-length liner") ||
    works.includes("sectional liner");
  const connect = isAtLeast(condition.connection, connectionFrom) || works.includes("connection liner");
  const onePiece =
    basis.liners["one-piece"] !== null && ((line && connect) || works.includes("one-piece liner"));
  if (!line && !connect && !onePiece) return NO_WALLS;
  const place = { lateral, condition, effluent, basis };
  const fullLength = line ? designHostWall("full-length", place) : NOT_ASKED;
  const section = fullLength.kind === "not asked" ? NOT_ASKED : designSection(fullLength, place);
  return new AskedWalls(fullLength, section, connect ? place : null, onePiece ? place : null);
}

/**
 * Those with a part in the main are designed when a stage asks: rules that need no wall refuse the liner of a third of the laterals whose
 * connection is bad.
 */
class AskedWalls implements Walls {
  readonly "full-length": Wall;
  readonly section: Wall;
  readonly #connected: Place | null;
  readonly #onePiece: Place | null;
  #connection: Walls["connection"] | null = null;
  #whole: Walls["one-piece"] | null = null;

  /** @param connected null where no liner at the connection is asked for, `onePiece` where none of one piece is */
  constructor(fullLength: Wall, section: Wall, connected: Place | null, onePiece: Place | null) {
    this["full-length"] = fullLength;
    this.section = section;
    this.#connected = connected;
    this.#onePiece = onePiece;
  }

  get connection(): Walls["connection"] {
    this.#connection ??= this.#connected === null ? NOT_ASKED : designWithMain("connection", this.#connected);
    return this.#connection;
  }

  get "one-piece"(): Walls["one-piece"] {
    this.#whole ??= this.#onePiece === null ? NOT_ASKED : designWithMain("one-piece", this.#onePiece);
    return this.#whole;
  }
}

const isAtLeast = (grade: Stated<number> | null, limit: number): boolean =>
  grade !== null && grade.value >= limit;

interface Place {
  readonly lateral: Lateral;
  readonly condition: Condition;
  readonly effluent: Effluent;
  readonly basis: Basis;
}

/** The wall of a liner in the lateral, for the covers along the whole of it unless others are given. */
function designHostWall(use: PlannedUse, place: Place, onlyAtMain = false): DesignedWall | RefusedWall {
  const { lateral, condition, effluent, basis } = place;
  const { hostDiameter } = lateral;
  if (hostDiameter === null) return refuse({ code: "host diameter unknown" });
  const liner = chosenFor(basis.liners, use);
  const { system } = liner;

  const against: Reason[] = [];
  const { least, most } = system.hostDiameters;
  if (!(hostDiameter.value >= least && hostDiameter.value <= most))
    against.push({ code: "host outside system", diameter: hostDiameter.value, least, most });
  const nominalDiameter = nominalFor(hostDiameter.value, system.stockedDiameters, system.diameterTolerance);
  if (nominalDiameter === null) {
    against.push({
      code: "no stocked diameter",
      diameter: hostDiameter.value,
      stocked: system.stockedDiameters,
    });
  }
  const inputs = stateInputs(lateral, hostDiameter, condition, basis, onlyAtMain);
  const material = materialAt(system, effluent.temperature.value);
  if (material === null) {
    against.push({
      code: "no long-term modulus",
      system: system.label,
      temperature: effluent.temperature.value,
    });
  }
  if (against.length > 0 || nominalDiameter === null || material === null) return refuse(...against);

  const notes = () => hostNotes(use, system, nominalDiameter, place);
  return designRing(
    { system, material, inputs, nominalDiameter, stockedWalls: system.stockedWalls, notes },
    basis,
  );
}

/** A section of the same system in the same host has the same wall; only its notes are its own. */
function designSection(fullLength: DesignedWall | RefusedWall, place: Place): DesignedWall | RefusedWall {
  const { liners, criteria } = place.basis;
  if (liners.section.system !== liners["full-length"].system) return designHostWall("section", place);
  if (fullLength.kind === "refused") return fullLength;
  const { system, nominalDiameter } = fullLength;
  return withNotes(fullLength, () => hostNotes("section", system, nominalDiameter, place), criteria);
}

function hostNotes(
  use: PlannedUse,
  system: LinerSystem,
  nominalDiameter: Millimetres,
  { lateral, condition, effluent, basis }: Place,
): readonly Reason[] {
  const notes: Reason[] = [
    ...ruledRefusals(use, lateral, condition, effluent, basis),
    ...scopeNotes(use, system, scopedSizes(use, lateral, nominalDiameter, basis), basis.scopes),
    ...reachNotes(lateral, use),
  ];
  if (isAtLeast(condition.structural, WORST_GRADE))
    notes.push({ code: "host wall may be missing", grade: WORST_GRADE });
  return notes;
}

/**
 * What the rules hold against a wall that the equations can design: an effluent that its system does not stand, and an
 * ovality over the program's own limit. The rules refuse it (shared/treatment-rules.json); the wall bears it as a note.
 */
export function ruledRefusals(
  use: PlannedUse,
  lateral: Lateral,
  condition: Pick<Condition, "ovality">,
  effluent: Effluent,
  { liners, effluents, assumptions, treatments }: Basis,
): readonly Reason[] {
  const found: Reason[] = effluentRefusals(effluent, chosenFor(liners, use), effluents);
  const ovality = ovalityOf(condition.ovality, assumptions.ovality).value;
  const limit = treatments.thresholds.greatestOvality;
  // Above 10 % the equations refuse for themselves; this is a program's own, lower limit.
  if (lateral.hostDiameter !== null && ovality > limit && ovality <= LARGEST_OVALITY)
    found.push({ code: "too oval", ovality, limit });
  return found;
}

function scopedSizes(use: PlannedUse, lateral: Lateral, host: Millimetres, { treatments }: Basis) {
  return {
    host,
    main: isInMain(use) ? (lateral.mainDiameter?.value ?? null) : null,
    length:
      use === "connection"
        ? metres(treatments.connection.lengthUpLateral)
        : (lateral.hostLength?.value ?? null),
  };
}

/**
 * Both rings of a liner with a part in the main, and the geometry: in the lateral at the main's cover for a connection liner, for the
 * covers along the whole of it for a one-piece liner; in the main always at the main's cover, on the main's diameter.
 */
function designWithMain(use: "connection" | "one-piece", place: Place): ConnectionWalls | RefusedWall {
  const { lateral, condition, basis } = place;
  const { mainDiameter, hostDiameter } = lateral;
  const { system } = chosenFor(basis.liners, use);
  const lateralPart = designHostWall(use, place, use === "connection");
  const against: Reason[] = lateralPart.kind === "refused" ? [...lateralPart.reasons] : [];
  if (mainDiameter === null) against.push({ code: "main diameter unknown" });
  else if (hostDiameter !== null && hostDiameter.value >= mainDiameter.value) {
    against.push({ code: "lateral wider than main", lateral: hostDiameter.value, main: mainDiameter.value });
  }
  const { connection } = basis.treatments;
  if (system.main !== null && !system.main.parts.includes(connection.mainPart))
    against.push({
      code: "main part not made",
      part: connection.mainPart,
      made: system.main.parts,
      system: system.label,
    });
  // What a whole lateral is longer than the system reaches is said with the bends: see reachRefusals.
  const upLateral =
    use === "connection" ? metres(connection.lengthUpLateral) : (lateral.hostLength?.value ?? null);
  if (upLateral === null) against.push({ code: "host length unknown" });
  else if (use === "connection" && upLateral > system.longestLength)
    against.push({ code: "longer than system", length: upLateral, limit: system.longestLength });
  if (
    against.length > 0 ||
    lateralPart.kind === "refused" ||
    mainDiameter === null ||
    hostDiameter === null ||
    upLateral === null
  )
    return refuse(...against);

  const atMain = stateInputs(lateral, mainDiameter, condition, basis, true);
  const mainPart = designMainPart(lateralPart, atMain, basis);
  if (mainPart.kind === "refused") return mainPart;
  const takeoff = sizeConnectionLiner({
    mainDiameter: mainDiameter.value,
    lateralDiameter: hostDiameter.value,
    mainPart:
      connection.mainPart === "brim"
        ? { kind: "brim", width: millimetres(connection.brimWidth) }
        : { kind: "full circle", eachSide: metres(connection.mainEachSide) },
    mainThickness: mainPart.specified.stocked,
    upLateral,
    lateralThickness: lateralPart.specified.stocked,
    junctionDegrees: connection.junctionAngle,
    seals: { mainEdges: true, lateralEnd: true },
  });
  return takeoff.kind === "refused"
    ? refuse({ code: "connection geometry", because: takeoff.because })
    : { kind: "designed", lateralPart, mainPart, takeoff };
}

/**
 * The ring in the main: the main's diameter under the cover at the main, its crown taken level with the lateral's, and
 * a street over it, the safe side: the city's surface is the lateral's.
 */
function designMainPart(
  { system, material }: DesignedWall,
  inputs: WallInputsStated,
  basis: Basis,
): DesignedWall | RefusedWall {
  const mainDiameter = inputs.hostDiameter;
  if (system.main === null) throw new RangeError(`designMainPart: ${system.key} has no part in the main`);
  const { least, most } = system.main.diameters;
  if (!(mainDiameter.value >= least && mainDiameter.value <= most))
    return refuse({ code: "main outside system", diameter: mainDiameter.value, least, most });
  const { ovality } = basis.assumptions;
  const notes = (): readonly Reason[] =>
    basis.treatments.connection.mainPart === "brim" ? [{ code: "brim is no ring" }] : [];
  return designRing(
    {
      system,
      material,
      inputs: {
        ...inputs,
        ovality: stated(fraction(ovality.value), "assumed", `${ovality.label}, of the main`),
        surface: stated("street", "assumed", "Surface over the main, the safe side"),
      },
      nominalDiameter: mainDiameter.value,
      stockedWalls: system.main.stockedWalls,
      notes,
    },
    basis,
  );
}

/** The inputs of a wall, each with where it comes from: the file's, a person's, or a named assumption. */
export function stateInputs(
  lateral: Lateral,
  hostDiameter: Stated<Millimetres>,
  condition: Condition,
  { assumptions }: Basis,
  onlyAtMain: boolean,
): WallInputsStated {
  const coverAtMain = mainCover(lateral, assumptions);
  return {
    hostDiameter,
    ovality: ovalityOf(condition.ovality, assumptions.ovality),
    coverAtHouse: onlyAtMain
      ? stated(coverAtMain.value, "estimated", "cover at the main, where the liner lies")
      : houseCover(lateral, assumptions),
    coverAtMain,
    waterTableDepth: lateral.waterTableDepth ?? assumedDepth(assumptions.water_table_depth),
    surface: orAssumed(lateral.surface, assumptions.surface),
  };
}

/** The measured ovality, never under the assumed one. */
export function ovalityOf(
  measured: Stated<Fraction> | null,
  floor: Basis["assumptions"]["ovality"],
): Stated<Fraction> {
  if (measured !== null && measured.value > floor.value) return measured;
  if (assumed?.floor !== floor) assumed = assumedOvality(floor);
  return measured === null ? assumed.notMeasured : assumed.measuredLess;
}

const assumedOvality = (floor: Basis["assumptions"]["ovality"]) => ({
  floor,
  notMeasured: stated(fraction(floor.value), "assumed", floor.label),
  measuredLess: stated(fraction(floor.value), "assumed", `${floor.label}, measured less`),
});

/** By the assumption asked about last: a program has one, and rules ask of every lateral. */
let assumed: ReturnType<typeof assumedOvality> | null = null;
