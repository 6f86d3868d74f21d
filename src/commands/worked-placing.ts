import { WATER_UNIT_WEIGHT } from "../engineering/groundwater.ts";
import type { PullCheck } from "../plan/forces.ts";
import { KILOGRAMS_PER_POUND, LITRES_PER_GALLON } from "../quantity/factors.ts";
import { toShown, type UnitSystem } from "../quantity/measure.ts";
import { type Metres, metres } from "../quantity/si.ts";
import type { Basis, ChosenLiner } from "../reference/basis.ts";
import type { PlacedLiner, SizedLiner } from "./size-liner.ts";
import { digits, equationUnits, type Worked, work } from "./worked-equation.ts";

/** Wall volume and resin of a liner: cubic inches over 231 are gallons, mm² · m over 1000 are litres. */
export function workResin(
  { liner, wetOut }: PlacedLiner,
  { system, resin }: ChosenLiner,
  hostDiameter: number,
  shopChart: Basis["shopChart"],
  units: UnitSystem,
): readonly [wallVolume: Worked, inTube: Worked] {
  const u = equationUnits(units);
  const unit = units === "us" ? "gal" : "L";
  const volume = (litres: number) => toShown(litres, "volume", units);
  const tubeWall = (length: Metres) => ({
    equation: units === "us" ? "π·(D − t)·t·12·L/231" : "π·(D − t)·t·L/1000",
    numbers: `π × (${digits(u.size(hostDiameter))} − ${digits(u.size(liner.wall))}) × ${digits(u.size(liner.wall))} × ${
      units === "us" ? "12 × " : ""
    }${digits(u.depth(length))}/${units === "us" ? 231 : 1000}`,
  });
  const wallOf = (): readonly [equation: string, numbers: string] => {
    const joint = "wall of both parts, by the joint's geometry";
    if (liner.kind === "connection") return [joint, ""];
    if (liner.kind !== "one piece") {
      const { equation, numbers } = tubeWall(liner.cutLength);
      return [equation, numbers];
    }
    const { equation, numbers } = tubeWall(metres(liner.cutLength - liner.installedLength));
    const both = digits(volume(liner.takeoff.wall));
    return [`${joint}, and ${equation} of run-in and run-out`, `${both} + ${numbers}`];
  };
  const wall = work("V_wall", ...wallOf(), volume(wetOut.wall), unit);
  const inTube = wetOut.mixed.volume - (wetOut.calibrationTube ?? 0);
  const chart = wetOut.by === "shop chart" ? shopChart?.rows[0] : undefined;
  if (chart !== undefined) {
    const perLength = digits(toShown(chart.kilogramsPerMetre, "linear_mass", units));
    const density =
      units === "us" ? (resin.density.used * LITRES_PER_GALLON) / KILOGRAMS_PER_POUND : resin.density.used;
    return [
      wall,
      work(
        "V in the tube",
        "c·L/ρ",
        `${perLength} × ${digits(u.depth(liner.cutLength))}/${digits(density)}`,
        volume(inTube),
        unit,
      ),
    ];
  }
  const { tube, excess } = system;
  const filled = digits(volume(wetOut.wall));
  if (tube.kind === "felt")
    return [
      wall,
      work(
        "V in the tube",
        "V_wall·v·(1 + x)",
        `${filled} × ${tube.voidRatio} × (1 + ${digits(excess)})`,
        volume(inTube),
        unit,
      ),
    ];
  const [w, f, r] = [tube.fibreMassFraction, tube.fibreDensity, resin.density.used].map((n) => digits(n));
  return [
    wall,
    work(
      "V in the tube",
      "V_wall·(1 − w)/ρ_r/(w/ρ_f + (1 − w)/ρ_r)·(1 + x)",
      `${filled} × (1 − ${w})/${r}/(${w}/${f} + (1 − ${w})/${r}) × (1 + ${digits(excess)})`,
      volume(inTube),
      unit,
    ),
  ];
}

/** Weight of the wet tube, in SI in every sheet: a mass is no force. */
export const workTube = ({ liner, wetOut }: PlacedLiner, pull: PullCheck): Worked =>
  work(
    "w",
    "(resin + dry tube)·g/L",
    `(${digits(wetOut.mixed.mass)} + ${digits(wetOut.fibre)}) × 9.80665/${digits(liner.cutLength)}`,
    pull.newtonsPerMetre,
    "N/m",
  );

/** Least pressure while curing, with its numbers. */
export function workInflation(
  { forces: { inflation } }: PlacedLiner,
  { placing }: Pick<Basis, "placing">,
  units: UnitSystem,
): Worked {
  const u = equationUnits(units);
  const water = units === "us" ? "62.4/144" : digits(WATER_UNIT_WEIGHT);
  const { branchHead, margin } = placing.inflation;
  const heads = `${digits(u.depth(inflation.groundwaterHead))} + ${digits(u.depth(branchHead))}`;
  return work(
    "p least",
    "γ_w·(groundwater + branches) + margin",
    `${water} × (${heads}) + ${digits(u.pressure(margin))}`,
    u.pressure(inflation.window.least),
    u.labels.pressure,
  );
}

/** What the lost bore alone does to the capacity. */
export function workCapacity({ pipe, rings, flow }: SizedLiner, units: UnitSystem): Worked | null {
  const ring = rings[0];
  if (flow === null || ring === undefined || ring.specified.kind === "refused") return null;
  const u = equationUnits(units);
  const D = digits(u.size(pipe.lateral.hostDiameter?.value ?? Number.NaN));
  const t = digits(u.size(ring.specified.stocked));
  return work(
    "Q₂/Q₁ on equal n",
    "((D − 2·t)/D)^(8/3)",
    `((${D} − 2 × ${t})/${D})^(8/3)`,
    flow.capacity.equalRoughness,
  );
}
