import type { TreatmentKind } from "../columns/plan-columns.ts";
import { type ConnectionTakeoff, sizeConnectionLiner } from "../engineering/connection-liner.ts";
import { type Metres, type Millimetres, metres, millimetres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Lateral } from "./lateral.ts";
import type { DesignedWall } from "./wall.ts";

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
  readonly installedLength: Metres;
  readonly cutLength: Metres;
  readonly endSeals: number;
  readonly takeoff: Extract<ConnectionTakeoff, { kind: "sized" }>;
}

/** One seal at each end of a liner in the lateral: City of South Bend IN, section 4-3.11(f). */
const SEALS_OF_A_LINER = 2;

/**
 * The liner a treatment places in this host, with the length installed and the length cut.
 *
 * @throws RangeError when the treatment was judged eligible without what its liner needs: that is a mistake in the rules.
 */
export function cutLiner(
  treatment: TreatmentKind,
  lateral: Lateral,
  wall: DesignedWall | null,
  { system, treatments }: Pick<Basis, "system" | "treatments">,
): Liner {
  switch (treatment) {
    case "full-length liner": {
      const stock = stockOf(wall, treatment);
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
      const length = sectionLength(treatments.sectional);
      return {
        kind: "section",
        ...stockOf(wall, treatment),
        installedLength: length,
        cutLength: length,
        endSeals: SEALS_OF_A_LINER,
      };
    }
    case "connection liner": {
      const stock = stockOf(wall, treatment);
      const mainDiameter = needed(lateral.mainDiameter, treatment).value;
      const hostDiameter = needed(lateral.hostDiameter, treatment).value;
      const { lengthUpLateral, mainEachSide } = treatments.connection;
      const takeoff = sizeConnectionLiner({
        mainDiameter,
        lateralDiameter: hostDiameter,
        mainPart: { kind: "full circle", eachSide: metres(mainEachSide) },
        mainThickness: stock.wall,
        upLateral: metres(lengthUpLateral),
        lateralThickness: stock.wall,
        junctionDegrees: 90,
        seals: { mainEdges: true, lateralEnd: true },
      });
      if (takeoff.kind === "refused")
        throw new RangeError(`cutLiner: connection of ${lateral.id}: ${takeoff.because}`);
      return {
        kind: "connection",
        ...stock,
        mainDiameter,
        installedLength: metres(lengthUpLateral),
        cutLength: metres(lengthUpLateral),
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

/** The shortest stocked section that covers one defect with its overlap on each side. */
function sectionLength({
  stockedLengths,
  overlapEachSide,
  defectLength,
}: Basis["treatments"]["sectional"]): Metres {
  const least = defectLength + 2 * overlapEachSide;
  const found = stockedLengths.values.find((length) => length >= least - 1e-9);
  if (found === undefined) throw new RangeError(`sectionLength: no stocked section of ${least} m or more`);
  return metres(found);
}

function stockOf(wall: DesignedWall | null, treatment: TreatmentKind): LinerStock {
  if (wall === null) throw new RangeError(`cutLiner: ${treatment} without a designed wall`);
  return { nominalDiameter: wall.nominalDiameter, wall: millimetres(wall.specified.stocked) };
}

function needed<T>(value: T | null, treatment: TreatmentKind): T {
  if (value === null)
    throw new RangeError(`cutLiner: ${treatment} was judged eligible without what its liner needs`);
  return value;
}
