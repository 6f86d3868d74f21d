import {
  type Litres,
  litres,
  type Metres,
  type Millimetres,
  metres,
  millimetres,
  type SquareMetres,
  squareMetres,
} from "../quantity/si.ts";
import { wallVolume } from "./wall-volume.ts";

/** What lies in the main: a sleeve all round it, or a flat ring around the opening. */
export type MainPart =
  /** Length along the main on each side, from the centre of the opening. */
  | { readonly kind: "full circle"; readonly eachSide: Metres }
  /** Width of the ring, measured straight across and along the main. */
  | { readonly kind: "brim"; readonly width: Millimetres };

/** A liner of a lateral's joint with the main. Every length is the user's: no published minimum was readable. */
export interface ConnectionLiner {
  readonly mainDiameter: Millimetres;
  readonly lateralDiameter: Millimetres;
  readonly mainPart: MainPart;
  readonly mainThickness: Millimetres;
  /** Length up the lateral, along its axis, from the wall of the main. */
  readonly upLateral: Metres;
  readonly lateralThickness: Millimetres;
  /** Angle between the axes: 90 is a tee, less is a wye. */
  readonly junctionDegrees: number;
  /** Which edges get a seal. */
  readonly seals: { readonly mainEdges: boolean; readonly lateralEnd: boolean };
}

export type ConnectionTakeoff =
  | {
      readonly kind: "sized";
      /** Area of the opening, on the wall of the main. */
      readonly opening: SquareMetres;
      /** Greatest half-length of the opening along the main. */
      readonly openingReach: Metres;
      readonly mainSheet: SquareMetres;
      readonly lateralSheet: SquareMetres;
      /** Wall of both parts, for `resin.ts`. */
      readonly wall: Litres;
      /** Two edges in a full circle, one ring around a brim, one at the top of the lateral, as far as asked for. */
      readonly endSeals: number;
    }
  | {
      readonly kind: "refused";
      readonly because:
        | "size not above zero"
        | "junction angle not from 15 to 90 degrees"
        | "lateral wider than main"
        | "wall too thick for the pipe"
        | "main part ends inside the opening"
        | "brim reaches past half of the main";
    };

/**
 * Areas, wall and seals of a connection liner.
 *
 *   opening   A(a, c) = 4·a·c·[E(k) − (1 − k²)·K(k)]/k² ,   a = r ,  c = r/sin β ,  k = a/R
 *   sleeve    main π·D·2s − A ;   lateral 2π·r·(u + R·(1 − 2·E(r/R)/π)/sin β)
 *   brim      A(r + b, r/sin β + b) − A(r, r/sin β)
 *
 * Source: geometry, derived: a patch on a cylinder of radius R that is, seen along the lateral's plane, an ellipse of half-axes
 * a (across) and c (along) has area ∫ 2c·√(1 − x²/a²)·dx/√(1 − x²/R²); K and E are complete elliptic integrals of modulus k. The
 * lateral's last term is the mean depth of its saddle cut. For a small lateral A tends to the ellipse π·a·c.
 * Holds for: round pipes whose axes meet, 15° ≤ β ≤ 90°. Areas are on the hosts' inside; walls are theirs less the liner's own
 * thickness, the opening's and the brim's counted at their area times the main's thickness.
 * A geometry check only. Common practice, no published source: 15 in (381 mm) each side of the joint, 2 ft (610 mm) up the lateral.
 */
export function sizeConnectionLiner(liner: ConnectionLiner): ConnectionTakeoff {
  const because = findGeometryFault(liner);
  if (because !== null) return { kind: "refused", because };
  const { mainDiameter, lateralDiameter, mainThickness, lateralThickness, mainPart, upLateral } = liner;
  const sine = Math.sin((liner.junctionDegrees * Math.PI) / 180);
  const mainRadius = mainDiameter / 2000;
  const radius = lateralDiameter / 2000;
  const reach = radius / sine;
  const opening = patchArea(radius, reach, mainRadius);
  const saddle = (mainRadius * (1 - (2 * ellipticIntegrals(radius / mainRadius).E) / Math.PI)) / sine;
  const lateralLength = metres(upLateral + saddle);

  let mainSheet: number;
  let mainWall: number;
  let mainEdges: number;
  switch (mainPart.kind) {
    case "full circle": {
      const length = metres(2 * mainPart.eachSide);
      mainSheet = Math.PI * 2 * mainRadius * length - opening;
      mainWall = wallVolume(mainDiameter, mainThickness, length) - opening * mainThickness;
      mainEdges = 2;
      break;
    }
    case "brim": {
      const width = mainPart.width / 1000;
      mainSheet = patchArea(radius + width, reach + width, mainRadius) - opening;
      mainWall = mainSheet * mainThickness;
      mainEdges = 1;
      break;
    }
    default:
      return mainPart satisfies never;
  }
  return {
    kind: "sized",
    opening: squareMetres(opening),
    openingReach: metres(reach),
    mainSheet: squareMetres(mainSheet),
    lateralSheet: squareMetres(Math.PI * 2 * radius * lateralLength),
    // 1 m² of 1 mm is 1 L.
    wall: litres(mainWall + wallVolume(lateralDiameter, lateralThickness, lateralLength)),
    endSeals: (liner.seals.mainEdges ? mainEdges : 0) + (liner.seals.lateralEnd ? 1 : 0),
  };
}

/** The scope of the one-piece main-and-lateral standard, as ASTM F2561-20 states it: lateral 3–12 in, main 6–24 in, up to 150 ft. */
export const ONE_PIECE_SCOPE = {
  lateral: { least: millimetres(3 * 25.4), most: millimetres(12 * 25.4) },
  main: { least: millimetres(6 * 25.4), most: millimetres(24 * 25.4) },
  upLateral: { most: metres(150 * 0.3048) },
} as const;

/** What of a connection liner lies outside that scope: a note to show, not an error. `slack` admits metric nominal sizes. */
export function listOutsideOnePieceScope(
  liner: Pick<ConnectionLiner, "mainDiameter" | "lateralDiameter" | "upLateral">,
  slack: number,
): readonly ("lateral diameter" | "main diameter" | "length up the lateral")[] {
  const { lateral, main, upLateral } = ONE_PIECE_SCOPE;
  const outside = (value: number, { least, most }: { least: number; most: number }) =>
    value < least * (1 - slack) || value > most * (1 + slack);
  const found: ("lateral diameter" | "main diameter" | "length up the lateral")[] = [];
  if (outside(liner.lateralDiameter, lateral)) found.push("lateral diameter");
  if (outside(liner.mainDiameter, main)) found.push("main diameter");
  if (liner.upLateral > upLateral.most) found.push("length up the lateral");
  return found;
}

function findGeometryFault(
  liner: ConnectionLiner,
): Extract<ConnectionTakeoff, { kind: "refused" }>["because"] | null {
  const { mainDiameter, lateralDiameter, mainThickness, lateralThickness, mainPart, upLateral } = liner;
  const part = mainPart.kind === "brim" ? mainPart.width : mainPart.eachSide;
  if (!(mainDiameter > 0 && lateralDiameter > 0 && mainThickness > 0 && lateralThickness > 0))
    return "size not above zero";
  if (!(part > 0 && upLateral > 0)) return "size not above zero";
  if (!(liner.junctionDegrees >= 15 && liner.junctionDegrees <= 90))
    return "junction angle not from 15 to 90 degrees";
  if (lateralDiameter > mainDiameter) return "lateral wider than main";
  if (!(2 * mainThickness < mainDiameter && 2 * lateralThickness < lateralDiameter))
    return "wall too thick for the pipe";
  switch (mainPart.kind) {
    case "full circle": {
      const reach = lateralDiameter / 2000 / Math.sin((liner.junctionDegrees * Math.PI) / 180);
      return mainPart.eachSide > reach ? null : "main part ends inside the opening";
    }
    case "brim":
      return lateralDiameter / 2 + mainPart.width <= mainDiameter / 2
        ? null
        : "brim reaches past half of the main";
    default:
      return mainPart satisfies never;
  }
}

/** Area on a cylinder of radius R of the patch whose outline, seen square on, is an ellipse of half-axes a (across) and c. */
function patchArea(across: number, along: number, cylinderRadius: number): number {
  const k = across / cylinderRadius;
  // The bracket loses digits to cancellation below this; its series 1 + k²/8 is exact to 1e-9 there.
  if (k < 0.01) return Math.PI * across * along * (1 + k ** 2 / 8);
  const { E, complementTimesK } = ellipticIntegrals(k);
  return (4 * across * along * (E - complementTimesK)) / k ** 2;
}

/**
 * Complete elliptic integrals of modulus k by the arithmetic-geometric mean: E(k), and (1 − k²)·K(k), which stays finite at
 * k = 1. Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 17.6.3–17.6.4.
 */
function ellipticIntegrals(k: number): { readonly E: number; readonly complementTimesK: number } {
  if (k >= 1) return { E: 1, complementTimesK: 0 };
  let a = 1;
  let b = Math.sqrt(1 - k ** 2);
  let c = k;
  let weight = 0.5;
  let sum = weight * c ** 2;
  // The next c is c²/4a: once below a billionth, what is left out is far below a double's last bit.
  while (c > 1e-9 * a) {
    c = (a - b) / 2;
    const mean = (a + b) / 2;
    b = Math.sqrt(a * b);
    a = mean;
    weight *= 2;
    sum += weight * c ** 2;
  }
  const K = Math.PI / (2 * a);
  return { E: K * (1 - sum), complementTimesK: (1 - k ** 2) * K };
}
