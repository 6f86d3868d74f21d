import type { TreatmentKind } from "../columns/plan-columns.ts";
import { type Metres, type Millimetres, metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import type { Lateral } from "./lateral.ts";
import { sectionLength } from "./section-length.ts";
import type { DesignedWall } from "./wall.ts";
import type { ConnectionWalls, Walls } from "./walls.ts";

/** The liner of one offer, by where it lies. Null for a treatment without a liner. */
export type Liner = FullLiner | SectionLiner | ConnectionPiece | null;

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
export interface SectionLiner extends LinerStock {
  readonly kind: "section";
  readonly installedLength: Metres;
  readonly cutLength: Metres;
  readonly endSeals: number;
}
export interface ConnectionPiece extends LinerStock {
  readonly kind: "connection";
  readonly mainDiameter: Millimetres;
  /** Of the part in the main. */
  readonly mainWall: Millimetres;
  readonly installedLength: Metres;
  readonly cutLength: Metres;
  readonly endSeals: number;
  readonly takeoff: ConnectionWalls["takeoff"];
}

/** The use whose system a liner is of. */
export const useOf: Readonly<Record<NonNullable<Liner>["kind"], PlannedUse>> = {
  "full length": "full-length",
  section: "section",
  connection: "connection",
};

/** One seal at each end of a liner in the lateral: City of South Bend IN, section 4-3.11(f). */
const SEALS_OF_A_LINER = 2;

/**
 * The liner a treatment places in this host, with the length installed and the length cut.
 *
 * @param defectSpan what a section must cover, where the surveys say it exactly
 * @throws RangeError when the treatment was judged eligible without what its liner needs: that is a mistake in the rules.
 */
export function cutLiner(
  treatment: TreatmentKind,
  lateral: Lateral,
  walls: Walls,
  defectSpan: Metres | null,
  { liners, treatments }: Pick<Basis, "liners" | "treatments">,
): Liner {
  switch (treatment) {
    case "full-length liner": {
      const { system } = liners["full-length"];
      const stock = stockOf(designed(walls["full-length"], treatment));
      const length = needed(lateral.hostLength, treatment).value;
      return {
        kind: "full length",
        ...stock,
        installedLength: length,
        cutLength: metres(length + system.runIn + system.runOut),
        endSeals: SEALS_OF_A_LINER,
      };
    }
    case "sectional liner": {
      const length = needed(sectionLength(treatments.sectional, defectSpan), treatment);
      return {
        kind: "section",
        ...stockOf(designed(walls.section, treatment)),
        installedLength: length,
        cutLength: length,
        endSeals: SEALS_OF_A_LINER,
      };
    }
    case "connection liner": {
      const { lateralPart, mainPart, takeoff } = designed(walls.connection, treatment);
      const upLateral = metres(treatments.connection.lengthUpLateral);
      return {
        kind: "connection",
        ...stockOf(lateralPart),
        mainDiameter: mainPart.nominalDiameter,
        mainWall: mainPart.specified.stocked,
        installedLength: upLateral,
        cutLength: upLateral,
        endSeals: takeoff.endSeals,
        takeoff,
      };
    }
    case "inspect first":
    case "leave and re-inspect":
    case "clean and cut roots":
    case "open-cut replacement":
      return null;
    default:
      return treatment satisfies never;
  }
}

const stockOf = ({ nominalDiameter, specified }: DesignedWall): LinerStock => ({
  nominalDiameter,
  wall: specified.stocked,
});

function designed<Asked extends Walls[PlannedUse]>(
  wall: Asked,
  treatment: TreatmentKind,
): Extract<Asked, { readonly kind: "designed" }> {
  if (wall.kind !== "designed") throw new RangeError(`cutLiner: ${treatment} with its wall ${wall.kind}`);
  return wall as Extract<Asked, { readonly kind: "designed" }>;
}

function needed<T>(value: T | null, treatment: TreatmentKind): T {
  if (value === null)
    throw new RangeError(`cutLiner: ${treatment} was judged eligible without what its liner needs`);
  return value;
}
