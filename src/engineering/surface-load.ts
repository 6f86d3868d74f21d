import {
  type Fraction,
  type Kilopascals,
  kilopascals,
  type Metres,
  type Millimetres,
  type Newtons,
} from "../quantity/si.ts";

/** One wheel of a design vehicle, standing over the pipe. */
export interface Wheel {
  readonly name: string;
  readonly load: Newtons;
}

/** A factor that holds from this cover (inclusive) to the next step. */
export interface ImpactStep {
  readonly from: Metres;
  readonly factor: number;
}

/** Impact by cover: steps in rising order, the first from 0. Published tables disagree, so the table has a name. */
export interface ImpactTable {
  readonly name: string;
  readonly steps: readonly [ImpactStep, ...ImpactStep[]];
}

/** A depth-only table: pressure at each cover, rows in rising order; straight lines between rows, zero beyond the last. */
export interface DepthTable {
  readonly name: string;
  readonly rows: readonly [DepthRow, ...DepthRow[]];
}
export interface DepthRow {
  readonly cover: Metres;
  readonly pressure: Kilopascals;
}

/** Spread of one wheel patch through the soil (LRFD form), with SERVICE loads: no load factor belongs in it. */
export interface PatchSpread {
  /** Contact patch at the surface: 20 in × 10 in in the source. */
  readonly patchLength: Millimetres;
  readonly patchWidth: Millimetres;
  /** Growth of each side per unit of cover: 1.15 in select granular soil, 1.00 in other. */
  readonly growth: number;
  readonly multiplePresence: number;
  /** Dynamic load allowance at the surface (0.33) and the cover at which it has died out (8 ft). FROM MEMORY, unverified. */
  readonly dynamicAtSurface: Fraction;
  readonly dynamicVanishesAt: Metres;
}

/** How traffic is turned into a pressure on the crown. The methods differ by about two; none is chosen silently. */
export type LiveLoadMethod =
  | { readonly kind: "none" }
  /** An engineer's own figure, the same at any cover. */
  | { readonly kind: "stated"; readonly pressure: Kilopascals }
  | {
      readonly kind: "boussinesq";
      readonly wheel: Wheel;
      readonly impact: ImpactTable;
      readonly loadedLength: Metres;
    }
  | { readonly kind: "spread"; readonly wheel: Wheel; readonly spread: PatchSpread }
  | { readonly kind: "depth table"; readonly table: DepthTable };

/**
 * A cover closer than this to a table's step is at the step, so that 3 ft and 0.9144 m read the same row whatever
 * the last bit of the conversion.
 */
const SAME_COVER = 1e-9;

/**
 * Live load on the crown, impact included; null where the method says nothing (a depth table above its first row,
 * or no cover at all for a wheel).
 */
export function liveLoad(method: LiveLoadMethod, cover: Metres, diameter: Millimetres): Kilopascals | null {
  switch (method.kind) {
    case "none":
      return kilopascals(0);
    case "stated":
      return method.pressure;
    case "boussinesq":
      return cover > 0
        ? kilopascals(
            impactFactor(method.impact, cover) *
              wheelPressure(method.wheel, method.loadedLength, cover, diameter),
          )
        : null;
    case "spread":
      return cover > 0 ? spreadPressure(method.wheel, method.spread, cover) : null;
    case "depth table":
      return depthTablePressure(method.table, cover);
    default:
      return method satisfies never;
  }
}

/**
 * The next cover deeper than `after` where the method's load jumps or bends, Infinity when there is none. Between
 * two of these the load is smooth, which is what a search for the worst cover needs to know.
 */
export function nextLoadBreak(method: LiveLoadMethod, after: number): number {
  switch (method.kind) {
    case "none":
    case "stated":
      return Number.POSITIVE_INFINITY;
    case "boussinesq":
      for (const step of method.impact.steps) if (step.from > after) return step.from;
      return Number.POSITIVE_INFINITY;
    case "spread":
      return method.spread.dynamicVanishesAt > after
        ? method.spread.dynamicVanishesAt
        : Number.POSITIVE_INFINITY;
    case "depth table":
      for (const row of method.table.rows) if (row.cover > after) return row.cover;
      return Number.POSITIVE_INFINITY;
    default:
      return method satisfies never;
  }
}

/**
 * Corner influence of a point load over a rectangle (Boussinesq's stress integrated by Newmark).
 *
 *   I = 1/(4π) · { 2mn√a / (a + b) · (a + 1)/a + atan2(2mn√a, a − b) } ,  a = m² + n² + 1,  b = m²n²
 *
 * atan2, because plain arctangent changes branch when m²n² exceeds m² + n² + 1.
 * Source: formula FROM MEMORY; proven by two published tables (tests) and by numerical integration (oracle).
 */
export function boussinesqInfluence(m: number, n: number): number {
  const a = m * m + n * n + 1;
  const b = m * m * n * n;
  const c = 2 * m * n * Math.sqrt(a);
  return ((c / (a + b)) * ((a + 1) / a) + Math.atan2(c, a - b)) / (4 * Math.PI);
}

/**
 * Part of one wheel's load that reaches a stretch of pipe right below it.
 *
 *   C_s = 4 · I(m, n) ,  m = D / (2H) ,  n = L / (2H)
 *
 * D: width of the pipe, L: its loaded length, H: cover, all m.
 * Source: "Buried Pipe Design" (McGraw-Hill), Table 2.6; "Facility Piping Systems Handbook" (McGraw-Hill), Table
 * 6.10, which prints C_s / L per foot with L = 3 ft.
 */
export function surfaceLoadCoefficient(width: Metres, length: Metres, cover: Metres): number {
  return 4 * boussinesqInfluence(width / (2 * cover), length / (2 * cover));
}

/**
 * Pressure of one wheel on the pipe's plan area, without impact.
 *
 *   p = C_s · P / (L · D)
 *
 * Source: "Trenchless Technology Piping: Installation and Inspection" (McGraw-Hill/WEF/ASCE, 2010), p. 76 (it
 * rounds 1/L to 0.33 per foot). Holds for: the wheel over the pipe; an axle's second wheel, 6 ft away, is not added.
 * The diameter hardly matters at lateral size: C_s is nearly proportional to it.
 */
function wheelPressure(wheel: Wheel, length: Metres, cover: Metres, diameter: Millimetres): Kilopascals {
  const width = (diameter / 1000) as Metres;
  return kilopascals((surfaceLoadCoefficient(width, length, cover) * wheel.load) / (length * width) / 1000);
}

/** Impact factor at a cover: the last step that starts at or above it. Covers above the surface read the first step. */
export function impactFactor(table: ImpactTable, cover: Metres): number {
  let factor = table.steps[0].factor;
  for (const step of table.steps) {
    if (cover < step.from - SAME_COVER) break;
    factor = step.factor;
  }
  return factor;
}

/**
 * One wheel patch spread through the soil, service load.
 *
 *   p = P · mp · (1 + IM) / [ (a + g·H)(b + g·H) ] ,   IM = IM₀ · (1 − H / H₀) ≥ 0
 *
 * Source: the spread and the multiple presence factor 1.2 from a pipe manufacturer's installation guide, 2020,
 * appendix A; the dynamic allowance IM (33 % at the surface, none from 8 ft) FROM MEMORY, unverified.
 * Holds for: one patch; overlap with a neighbouring wheel is not modelled.
 */
export function spreadPressure(wheel: Wheel, spread: PatchSpread, cover: Metres): Kilopascals {
  const growth = spread.growth * cover;
  const area = (spread.patchLength / 1000 + growth) * (spread.patchWidth / 1000 + growth);
  const left = 1 - cover / spread.dynamicVanishesAt;
  const dynamic = 1 + (left > 0 ? spread.dynamicAtSurface * left : 0);
  return kilopascals((wheel.load * spread.multiplePresence * dynamic) / area / 1000);
}

/** Depth-only table: the row's pressure, straight lines between rows (ours), zero beyond the last, null above the first. */
export function depthTablePressure(table: DepthTable, cover: Metres): Kilopascals | null {
  let above = table.rows[0];
  if (!(cover >= above.cover - SAME_COVER)) return null;
  for (const row of table.rows) {
    if (cover <= row.cover + SAME_COVER) {
      if (row === above) return row.pressure;
      const part = Math.min(1, (cover - above.cover) / (row.cover - above.cover));
      return kilopascals(above.pressure + part * (row.pressure - above.pressure));
    }
    above = row;
  }
  return kilopascals(0);
}
