import { type BatchVerdict, judgeBatch } from "../engineering/pot-life.ts";
import {
  calibrationTubeWall,
  type Resin as MixedResin,
  resinForFelt,
  resinForGlass,
  resinFromChart,
} from "../engineering/resin.ts";
import {
  type ComponentDensities,
  convertToWeight,
  readMixRatio,
  type WeighedBatch,
  type WeightRatio,
  weighBatch,
} from "../engineering/resin-mix.ts";
import { wallVolume } from "../engineering/wall-volume.ts";
import {
  type Celsius,
  celsius,
  fraction,
  type Kilograms,
  kilograms,
  kilogramsPerLitre,
  type Litres,
  litres,
  type Metres,
  type Millimetres,
  type Minutes,
  metres,
  millimetres,
  minutes,
} from "../quantity/si.ts";
import type { Basis, ChosenLiner } from "../reference/basis.ts";
import type { Resin } from "../reference/resins.ts";
import type { Liner } from "./liner.ts";
import { hasPartInMain } from "./part-in-main.ts";

/** Resin for one liner, as it is bought, weighed and used. */
export interface WetOut {
  /** Its key in the table of resins. */
  readonly resin: string;
  readonly mixed: MixedResin;
  /** Whole millilitres, so that totals are sums of integers. */
  readonly millilitres: number;
  /** How the amount was found: from the tube's own voids or fibre, or from the shop's chart. */
  readonly by: "felt voids" | "glass fibre" | "shop chart";
  /** Wall the tube fills, without a calibration tube. */
  readonly wall: Litres;
  /** What a calibration tube that stays in the pipe takes up, in the amount above; null without one. */
  readonly calibrationTube: Litres | null;
  /** Dry tube, for its weight. */
  readonly fibre: Kilograms;
  readonly components: Components;
  readonly potLife: PotLifeCheck;
}

/** What is put on the scale, in whole grams so that districts add up. */
export type Components =
  | { readonly kind: "two parts"; readonly ratio: WeightRatio; readonly batch: WeighedBatch }
  /** The resin comes ready, or with what starts it by the supplier's table. */
  | { readonly kind: "as supplied" };

/** Whether the liner is in place before its resin thickens. */
export type PotLifeCheck =
  | (BatchVerdict & { readonly at: Celsius })
  | {
      readonly kind: "not computed";
      readonly because: "heat- or light-initiated: the supplier's table" | "no pot life of this resin";
    };

const MILLILITRES_PER_LITRE = 1000;

/** Mixed resin of the liner with its components and its time. */
export function wetOutLiner(
  liner: NonNullable<Liner>,
  hostDiameter: Millimetres | null,
  chosen: Pick<ChosenLiner, "system" | "resin">,
  basis: Pick<Basis, "wetOut" | "shopChart" | "potLifeMargin" | "placing">,
): WetOut {
  if (hostDiameter === null) throw new RangeError("wetOutLiner: a liner in a host of unknown diameter");
  const { system, resin } = chosen;
  const { wetOut } = basis;
  const density = kilogramsPerLitre(resin.density.used);
  const excess = fraction(system.excess);
  const wall = wallOfLiner(liner, hostDiameter);
  const { tube } = system;
  const filled =
    tube.kind === "felt"
      ? resinForFelt(wall, { voids: fraction(tube.voidRatio), excess, density })
      : resinForGlass(wall, {
          fibreMassFraction: fraction(tube.fibreMassFraction),
          fibreDensity: kilogramsPerLitre(tube.fibreDensity),
          excess,
          density,
        });
  // A chart is by length of lateral: it says nothing of the piece in the main.
  const chart = hasPartInMain(liner) ? null : chartRow(basis.shopChart, liner);
  const inTube = chart === null ? filled : resinFromChart(chart, liner.cutLength, density);
  const absorbed = calibrationResin(liner, hostDiameter, chosen, excess);
  const mixed: MixedResin = {
    volume: litres(inTube.volume + (absorbed?.volume ?? 0)),
    mass: kilograms(inTube.mass + (absorbed?.mass ?? 0)),
  };
  return {
    resin: resin.key,
    mixed,
    millilitres: Math.round(mixed.volume * MILLILITRES_PER_LITRE),
    by: chart !== null ? "shop chart" : tube.kind === "felt" ? "felt voids" : "glass fibre",
    wall,
    calibrationTube: absorbed?.volume ?? null,
    fibre: dryTube(wall, filled, excess, tube, wetOut),
    components: weighComponents(mixed.mass, resin, wetOut),
    potLife: checkPotLife(liner.cutLength, resin, basis),
  };
}

/** The wall that is wet out. Run-in and run-out of a one-piece liner are plain tube beside what its joint's geometry counts. */
function wallOfLiner(liner: NonNullable<Liner>, hostDiameter: Millimetres): Litres {
  switch (liner.kind) {
    case "full length":
    case "section":
      return wallVolume(hostDiameter, liner.wall, liner.cutLength);
    case "connection":
      return liner.takeoff.wall;
    case "one piece": {
      const beyond = metres(liner.cutLength - liner.installedLength);
      return litres(liner.takeoff.wall + wallVolume(hostDiameter, liner.wall, beyond));
    }
    default:
      return liner satisfies never;
  }
}

/** The time from mixing until the tube is in the pipe. */
export function insertionTime(length: Metres, { placing }: Pick<Basis, "placing">): Minutes {
  return minutes(length / placing.insertionRate.slowest);
}

function chartRow(
  chart: Basis["shopChart"],
  { nominalDiameter, wall }: { readonly nominalDiameter: Millimetres; readonly wall: Millimetres },
): number | null {
  const row = chart?.rows.find((found) => found.diameter === nominalDiameter && found.wall === wall);
  return row === undefined ? null : row.kilogramsPerMetre;
}

/** A permanent calibration tube is absorbent and is saturated: ASTM F1743-22, terminology. It lies inside the liner. */
function calibrationResin(
  liner: NonNullable<Liner>,
  hostDiameter: Millimetres,
  { system, resin }: Pick<ChosenLiner, "system" | "resin">,
  excess: ReturnType<typeof fraction>,
): MixedResin | null {
  const { calibrationTube } = system;
  if (calibrationTube === undefined) return null;
  const thickness = millimetres(calibrationTube.thickness);
  const wall = calibrationTubeWall(hostDiameter, liner.wall, thickness, liner.cutLength);
  return resinForFelt(wall, {
    voids: fraction(calibrationTube.voidRatio),
    excess,
    density: kilogramsPerLitre(resin.density.used),
  });
}

/** Mass of the dry tube: its fibre fills what the resin, without excess, leaves of the wall. */
function dryTube(
  wall: Litres,
  filled: MixedResin,
  excess: number,
  tube: ChosenLiner["system"]["tube"],
  { feltFibreDensity }: Basis["wetOut"],
): Kilograms {
  const fibre = wall - filled.volume / (1 + excess);
  return kilograms(fibre * (tube.kind === "felt" ? feltFibreDensity.value : tube.fibreDensity));
}

/**
 * Components rounded up to the scale. A ratio comes with its basis or not at all.
 *
 * @throws RangeError for a ratio without one: the tables and the settings refuse it first
 */
export function weighComponents(
  mixed: Kilograms,
  { mix }: Pick<Resin, "mix">,
  { scale }: Basis["wetOut"],
): Components {
  if (mix === undefined) return { kind: "as supplied" };
  const read = readMixRatio(mix.base, mix.hardener, mix.basis);
  if (read.kind === "refused") throw new RangeError(`weighComponents: ${read.because}: ${read.found}`);
  const densities: ComponentDensities = {
    base: kilogramsPerLitre(mix.baseDensity),
    hardener: kilogramsPerLitre(mix.hardenerDensity),
  };
  const ratio = convertToWeight(read.ratio, densities);
  const batch = weighBatch(mixed, ratio, {
    step: kilograms(scale.step),
    ratioTolerance: fraction(scale.ratioTolerance),
  });
  return { kind: "two parts", ratio, batch };
}

function checkPotLife(
  length: Metres,
  resin: Resin,
  basis: Pick<Basis, "wetOut" | "potLifeMargin" | "placing">,
): PotLifeCheck {
  const { wetOut } = basis;
  if (resin.mix === undefined)
    return { kind: "not computed", because: "heat- or light-initiated: the supplier's table" };
  if (resin.potLife === undefined) return { kind: "not computed", because: "no pot life of this resin" };
  const at = celsius(wetOut.forecastTemperature.value);
  const { sinceMixing, perMetre, haul } = wetOut.times;
  const verdict = judgeBatch(
    {
      wetOut: minutes(sinceMixing + perMetre * length),
      haul: minutes(haul),
      insertion: insertionTime(length, basis),
    },
    at,
    {
      system: "ambient two-part epoxy",
      life: minutes(resin.potLife.minutes),
      at: celsius(resin.potLife.atCelsius),
      factorPerTenDegrees: resin.potLife.factorPerTenDegrees,
    },
    fraction(basis.potLifeMargin.used),
  );
  return { ...verdict, at };
}
