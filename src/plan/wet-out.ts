import { type Resin as MixedResin, resinForFelt } from "../engineering/resin.ts";
import { wallVolume } from "../engineering/wall-volume.ts";
import { fraction, kilogramsPerLitre, type Millimetres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Liner } from "./liner.ts";

/** Resin for one liner. Whole millilitres, so that totals are sums of integers. */
export interface WetOut {
  readonly mixed: MixedResin;
  readonly millilitres: number;
}

const MILLILITRES_PER_LITRE = 1000;

/** Mixed resin that fills the liner's felt, with the system's excess; null without a liner. */
export function wetOutLiner(
  liner: Liner,
  hostDiameter: Millimetres | null,
  { system, resin }: Pick<Basis, "system" | "resin">,
): WetOut | null {
  if (liner === null) return null;
  if (hostDiameter === null) throw new RangeError("wetOutLiner: a liner in a host of unknown diameter");
  const felt = {
    voids: fraction(system.voidRatio),
    excess: fraction(system.excess),
    density: kilogramsPerLitre(resin.density.used),
  };
  const volume =
    liner.kind === "connection" ? liner.takeoff.wall : wallVolume(hostDiameter, liner.wall, liner.cutLength);
  const mixed = resinForFelt(volume, felt);
  return { mixed, millilitres: Math.round(mixed.volume * MILLILITRES_PER_LITRE) };
}
