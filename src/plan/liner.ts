import { type Metres, type Millimetres, metres } from "../quantity/si.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Lateral } from "./lateral.ts";
import { sectionLength } from "./section-length.ts";
import type { SectionPiece } from "./sections.ts";
import type { ConnectionWalls, Walls } from "./walls.ts";

/** The liner of one offer, by where it lies. Null for a work without a liner. */
export type Liner = FullLiner | SectionLiner | ConnectionPiece | OnePiece | null;

interface LinerStock {
  readonly nominalDiameter: Millimetres;
  readonly wall: Millimetres;
}
export interface FullLiner extends LinerStock {
  readonly kind: "full length";
  readonly installedLength: Metres;
  /** Installed length with run-in and run-out: what is cut and wet out. */
  readonly cutLength: Metres;
  readonly endSeals: number;
}
/** One section, or several in one lateral: lengths and seals are of all of them. */
export interface SectionLiner extends LinerStock {
  readonly kind: "section";
  /** From the end the pipe is measured from; at least one. */
  readonly pieces: readonly SectionPiece[];
  readonly installedLength: Metres;
  readonly cutLength: Metres;
  readonly endSeals: number;
}
/** What a liner with a part in the main has of it. */
interface PartInMain extends LinerStock {
  readonly mainDiameter: Millimetres;
  /** Of the part in the main. */
  readonly mainWall: Millimetres;
  readonly installedLength: Metres;
  readonly cutLength: Metres;
  readonly endSeals: number;
  /** As installed; a length cut beyond that is no part of it. */
  readonly takeoff: ConnectionWalls["takeoff"];
}
export interface ConnectionPiece extends PartInMain {
  readonly kind: "connection";
}
/** The whole lateral and its connection in one piece, launched from the main. */
export interface OnePiece extends PartInMain {
  readonly kind: "one piece";
}

/** The use whose system a liner is of. */
export const useOf: Readonly<Record<NonNullable<Liner>["kind"], PlannedUse>> = {
  "full length": "full-length",
  section: "section",
  connection: "connection",
  "one piece": "one-piece",
};

/** Liners placed one after another in the lateral. */
export const piecesIn = (liner: NonNullable<Liner>): number =>
  liner.kind === "section" ? liner.pieces.length : 1;

/** The liner as far as one placing handles it: of several sections the longest. */
export function longestPiece(liner: NonNullable<Liner>): NonNullable<Liner> {
  if (liner.kind !== "section" || liner.pieces.length === 1) return liner;
  const longest = liner.pieces.reduce((a, b) => (b.length > a.length ? b : a));
  return {
    ...liner,
    pieces: [longest],
    installedLength: longest.length,
    cutLength: longest.length,
    endSeals: SEALS_OF_A_LINER,
  };
}

/** One seal at each end of a liner in the lateral: City of South Bend IN, section 4-3.11(f). */
const SEALS_OF_A_LINER = 2;

/**
 * The liner a work places in this host, with the length installed and the length cut.
 *
 * @param sections where they were placed; null for one section of the rules' length
 * @throws RangeError when the work was judged eligible without what its liner needs: that is a mistake in the rules.
 */
export function cutLiner(
  work: WorkKind,
  lateral: Lateral,
  walls: Walls,
  sections: readonly SectionPiece[] | null,
  { liners, treatments }: Pick<Basis, "liners" | "treatments">,
): Liner {
  switch (work) {
    case "full-length liner": {
      const { system } = liners["full-length"];
      const { nominalDiameter, specified } = designed(walls["full-length"], work);
      const length = needed(lateral.hostLength, work).value;
      return {
        kind: "full length",
        nominalDiameter,
        wall: specified.stocked,
        installedLength: length,
        cutLength: metres(length + system.runIn + system.runOut),
        endSeals: SEALS_OF_A_LINER,
      };
    }
    case "sectional liner": {
      const pieces = sections ?? [
        { start: null, length: needed(sectionLength(treatments.sectional, null), work) },
      ];
      const { nominalDiameter, specified } = designed(walls.section, work);
      const length = metres(pieces.reduce((sum, piece) => sum + piece.length, 0));
      return {
        kind: "section",
        nominalDiameter,
        wall: specified.stocked,
        pieces,
        installedLength: length,
        cutLength: length,
        endSeals: SEALS_OF_A_LINER * pieces.length,
      };
    }
    case "connection liner": {
      const upLateral = metres(treatments.connection.lengthUpLateral);
      return cutWithMain("connection", designed(walls.connection, work), upLateral, upLateral);
    }
    case "one-piece liner": {
      const { system } = chosenFor(liners, "one-piece");
      const length = needed(lateral.hostLength, work).value;
      const cut = metres(length + system.runIn + system.runOut);
      return cutWithMain("one piece", designed(walls["one-piece"], work), length, cut);
    }
    case "inspect first":
    case "clean and cut roots":
    case "joint grouting":
    case "grouting of running infiltration":
    case "new cleanout":
    case "pipe bursting":
    case "open-cut replacement":
      return null;
    default:
      return work satisfies never;
  }
}

const cutWithMain = <Kind extends "connection" | "one piece">(
  kind: Kind,
  { lateralPart, mainPart, takeoff }: ConnectionWalls,
  installedLength: Metres,
  cutLength: Metres,
) => ({
  kind,
  nominalDiameter: lateralPart.nominalDiameter,
  wall: lateralPart.specified.stocked,
  mainDiameter: mainPart.nominalDiameter,
  mainWall: mainPart.specified.stocked,
  endSeals: takeoff.endSeals,
  takeoff,
  installedLength,
  cutLength,
});

function designed<Asked extends Walls[PlannedUse]>(
  wall: Asked,
  work: WorkKind,
): Extract<Asked, { readonly kind: "designed" }> {
  if (wall.kind !== "designed") throw new RangeError(`cutLiner: ${work} with its wall ${wall.kind}`);
  return wall as Extract<Asked, { readonly kind: "designed" }>;
}

function needed<T>(value: T | null, work: WorkKind): T {
  if (value === null)
    throw new RangeError(`cutLiner: ${work} was judged eligible without what its liner needs`);
  return value;
}
