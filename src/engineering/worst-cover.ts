import { type Fraction, fraction, type Metres, metres } from "../quantity/si.ts";
import { type Groundwater, groundwaterHeads } from "./groundwater.ts";
import {
  designWall,
  type ExternalLoad,
  loadOnCrown,
  type WallDesign,
  type WallInputs,
  type WallRefusal,
} from "./liner-wall.ts";
import { nextLoadBreak } from "./surface-load.ts";

/** A lateral on a straight slope under a straight surface: everything of the design except what changes with cover. */
export interface SlopingLateral extends Omit<WallInputs, "cover" | "headOverCrown" | "headOverInvert"> {
  readonly coverAtHouse: Metres;
  readonly coverAtMain: Metres;
  /** One depth below the surface along the whole run: an assumption, as water levels are known at a few points at best. */
  readonly groundwater: Groundwater;
}

export interface WorstCover {
  readonly kind: "found";
  readonly design: WallDesign;
  readonly cover: Metres;
  /** Where along the run: 0 at the house, 1 at the main. */
  readonly at: Fraction;
  /** The deepest end, where X1.1 and X1.2 ask for most; the same design where that is the worst cover. */
  readonly deepest: { readonly cover: Metres; readonly design: WallDesign };
  /** How often the load was worked out, the full designs included: what the search cost. */
  readonly evaluations: number;
}

/**
 * Just to the shallow side of a step, m: a step's own cover already reads the deeper row, so the last word of the
 * shallower row is heard a micrometre above it. The wall there is within a millionth of the limit.
 */
const NUDGE = 1e-6;
/** Intervals in each smooth stretch. */
const INTERVALS = 5;
/** Golden-section steps: 24 shrink an interval to a hundred-thousandth, beyond what a flat top can show. */
const REFINEMENTS = 24;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * The cover along a sloping lateral that needs the thickest wall, and that wall.
 *
 * Live load falls with cover and soil load rises, so neither end is safe to assume: the least wall is usually
 * inside and the thickest at an end, but steps of an impact or depth table can put the thickest inside too.
 * - X1.1 and X1.2 grow with the head over the invert, which grows with cover: their worst place is the deep end.
 *   X1.4 and the largest ratio do not change along the run.
 * - X1.3 asks for t ∝ [q_t² / (R_w · B′)]^(1/3) in both editions, so only that quotient is searched: every smooth
 *   stretch between the breaks of the live load is sampled up to both ends, and a top found inside one is refined by
 *   golden section. Where the crown enters the water the load bends upward, which makes no top, so that is no break.
 * Without live load, and without water standing on the surface, q_t² / (R_w · B′) only grows with cover (soil alone:
 * 2 > (4y − 8)·e^(−y) for every y = 0.065·H), so one design at the deep end answers. A constant load on top (stated
 * live load, standing water) breaks that: soil support then grows faster than load.
 *
 * Cover is taken as linear between the two ends. A refusal at either end passes through.
 */
export function findWorstCover(lateral: SlopingLateral): WorstCover | WallRefusal {
  const { coverAtHouse, coverAtMain, liveLoad: method } = lateral;
  const shallow = metres(Math.min(coverAtHouse, coverAtMain));
  const deep = metres(Math.max(coverAtHouse, coverAtMain));

  if (!Number.isFinite(shallow) || !Number.isFinite(deep)) {
    return { kind: "refused", because: "no-cover", cover: shallow };
  }
  const atDeep = designAt(lateral, deep);
  if (atDeep.kind === "refused") return atDeep;
  if (lateral.deterioration === "partially") return found(lateral, atDeep, deep, 1);
  if (shallow === deep) return found(lateral, atDeep, deep, 1);
  if (!(shallow > 0)) return { kind: "refused", because: "no-cover", cover: shallow };
  if (method.kind === "none" && !isFlooded(lateral.groundwater)) return found(lateral, atDeep, deep, 1);

  let evaluations = 1;
  const demand = (cover: number): number => {
    evaluations++;
    return demandAt(lateral, cover);
  };
  // A method that says nothing does so at the shallow end or nowhere.
  const atShallow = demand(shallow);
  if (Number.isNaN(atShallow)) return { kind: "refused", because: "live-load-undefined", cover: shallow };
  let worst: Demand = { cover: deep, demand: demandOf(atDeep.externalLoad) };
  let start: Demand = { cover: shallow, demand: atShallow };
  while (start.cover < deep) {
    const end = Math.min(deep, nextLoadBreak(method, start.cover));
    // The deep end itself is counted already, so that every stretch can end on the shallow side of its break.
    const top = topOfStretch(demand, start, Math.max(start.cover, end - NUDGE));
    if (top.demand > worst.demand) worst = top;
    if (end === deep) break;
    start = { cover: end, demand: demand(end) };
  }
  if (worst.cover === deep) return found(lateral, atDeep, deep, evaluations);

  const atWorst = designAt(lateral, metres(worst.cover));
  evaluations++;
  if (atWorst.kind === "refused") return atWorst;
  return atWorst.wall > atDeep.wall
    ? found(lateral, atWorst, metres(worst.cover), evaluations, { cover: deep, design: atDeep })
    : found(lateral, atDeep, deep, evaluations);
}

/** A cover, and what X1.3 grows with there. */
interface Demand {
  readonly cover: number;
  readonly demand: number;
}

/** Where a smooth stretch of covers is worst: the best of a few samples, refined unless it is an end that falls away. */
function topOfStretch(demand: (cover: number) => number, from: Demand, end: number): Demand {
  const start = from.cover;
  const width = (end - start) / INTERVALS;
  let best = 0;
  let bestDemand = from.demand;
  for (let i = 1; i <= INTERVALS; i++) {
    const here = demand(i === INTERVALS ? end : start + i * width);
    if (here > bestDemand) {
      best = i;
      bestDemand = here;
    }
  }
  // A thousandth of an interval inwards tells an end that is the top from an end with the top beside it.
  if (best === 0 && demand(start + width / 1000) <= bestDemand) return from;
  if (best === INTERVALS && demand(end - width / 1000) <= bestDemand)
    return { cover: end, demand: bestDemand };

  let a = Math.max(start, start + (best - 1) * width);
  let b = Math.min(end, start + (best + 1) * width);
  let c = b - GOLDEN * (b - a);
  let d = a + GOLDEN * (b - a);
  let atC = demand(c);
  let atD = demand(d);
  for (let i = 0; i < REFINEMENTS; i++) {
    if (atC > atD) {
      b = d;
      d = c;
      atD = atC;
      c = b - GOLDEN * (b - a);
      atC = demand(c);
    } else {
      a = c;
      c = d;
      atC = atD;
      d = a + GOLDEN * (b - a);
      atD = demand(d);
    }
  }
  return atC > atD ? { cover: c, demand: atC } : { cover: d, demand: atD };
}

function designAt(lateral: SlopingLateral, cover: Metres): WallDesign | WallRefusal {
  const heads = groundwaterHeads(lateral.groundwater, cover, lateral.hostDiameter);
  return designWall({
    deterioration: lateral.deterioration,
    hostDiameter: lateral.hostDiameter,
    ovality: lateral.ovality,
    cover,
    headOverCrown: heads.overCrown,
    headOverInvert: heads.overInvert,
    soilUnitWeight: lateral.soilUnitWeight,
    soilModulus: lateral.soilModulus,
    liveLoad: lateral.liveLoad,
    material: lateral.material,
    criteria: lateral.criteria,
  });
}

const demandAt = (lateral: SlopingLateral, cover: number): number =>
  demandOf(
    loadOnCrown({
      cover: metres(cover),
      headOverCrown: groundwaterHeads(lateral.groundwater, metres(cover), lateral.hostDiameter).overCrown,
      soilUnitWeight: lateral.soilUnitWeight,
      liveLoad: lateral.liveLoad,
      hostDiameter: lateral.hostDiameter,
    }),
  );

/** q_t² / (R_w · B′), what X1.3 grows with; NaN where the live-load method says nothing. */
const demandOf = (load: ExternalLoad | null): number =>
  load === null ? Number.NaN : (load.total * load.total) / (load.waterBuoyancy * load.soilSupport);

const isFlooded = (water: Groundwater): boolean => water.kind === "table" && water.depthBelowSurface < 0;

function found(
  { coverAtHouse, coverAtMain }: SlopingLateral,
  design: WallDesign,
  cover: Metres,
  evaluations: number,
  deepest: WorstCover["deepest"] = { cover, design },
): WorstCover {
  const rise = coverAtMain - coverAtHouse;
  return {
    kind: "found",
    design,
    cover,
    at: fraction(rise === 0 ? 0 : (cover - coverAtHouse) / rise),
    deepest,
    evaluations,
  };
}
