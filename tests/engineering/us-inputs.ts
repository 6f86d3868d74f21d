import loads from "../../shared/live-loads.json" with { type: "json" };
import type { LinerMaterial, WallCriteria } from "../../src/engineering/liner-wall.ts";
import { ovalityReduction } from "../../src/engineering/ovality.ts";
import type {
  DepthTable,
  ImpactTable,
  LiveLoadMethod,
  PatchSpread,
  Wheel,
} from "../../src/engineering/surface-load.ts";
import type { FreeRing, SoilRing } from "../../src/engineering/wall-checks.ts";
import {
  KILONEWTONS_PER_CUBIC_METRE_PER_PCF,
  KILOPASCALS_PER_PSF,
  KILOPASCALS_PER_PSI,
  MEGAPASCALS_PER_PSI,
  METRES_PER_FOOT,
  MILLIMETRES_PER_INCH,
  NEWTONS_PER_POUND_FORCE,
} from "../../src/quantity/factors.ts";
import {
  fraction,
  kilonewtonsPerCubicMetre,
  kilopascals,
  megapascals,
  metres,
  millimetres,
  newtons,
} from "../../src/quantity/si.ts";

/** Published values are in US units; these write them as published. */
export const inches = (n: number) => millimetres(n * MILLIMETRES_PER_INCH);
export const feet = (n: number) => metres(n * METRES_PER_FOOT);
export const psi = (n: number) => kilopascals(n * KILOPASCALS_PER_PSI);
export const modulusPsi = (n: number) => megapascals(n * MEGAPASCALS_PER_PSI);
export const pcf = (n: number) => kilonewtonsPerCubicMetre(n * KILONEWTONS_PER_CUBIC_METRE_PER_PCF);
export const pounds = (n: number) => newtons(n * NEWTONS_PER_POUND_FORCE);
export const percent = (n: number) => fraction(n / 100);

/** And read results back. */
export const toInches = (mm: number | null) => (mm === null ? Number.NaN : mm / MILLIMETRES_PER_INCH);
export const toPsi = (kPa: number | null | undefined) => (kPa ?? Number.NaN) / KILOPASCALS_PER_PSI;
export const toPsf = (kPa: number | null) => (kPa ?? Number.NaN) / KILOPASCALS_PER_PSF;

/** Handbook p. 75-83: E 250,000 psi, half of it kept, strength 4,500 psi taken short term. */
export const handbookMaterial: LinerMaterial = {
  shortTermModulus: modulusPsi(250_000),
  longTermModulus: modulusPsi(125_000),
  shortTermStrength: modulusPsi(4_500),
  longTermStrength: modulusPsi(2_250),
};

/** The handbook's way of computing; the largest ratio is from memory and does not touch its examples. */
export const handbookCriteria: WallCriteria = {
  edition: "2007b and later",
  strengthBasis: "short term",
  enhancement: 7,
  poissonsRatio: 0.3,
  safetyFactor: 2,
  largestRatio: 100,
};

/** And its ring, ovality 2 %, half the modulus kept, N 2: under water, and in soil. */
export const handbookRing: FreeRing = {
  reduction: ovalityReduction(percent(2)),
  modulus: modulusPsi(125_000),
  enhancement: 7,
  poissonsRatio: 0.3,
  safetyFactor: 2,
};
export const handbookSoil: SoilRing = {
  edition: "2007b and later",
  waterBuoyancy: 0.835,
  soilSupport: 0.41428,
  soilModulus: modulusPsi(1000),
  reduction: ovalityReduction(percent(2)),
  modulus: modulusPsi(125_000),
  safetyFactor: 2,
};

export const wheel = (name: keyof typeof loads.wheels.values): Wheel => ({
  name,
  load: newtons(loads.wheels.values[name].newtons),
});

export const impact = (name: keyof typeof loads.impact): ImpactTable => {
  const [first, ...rest] = loads.impact[name].steps.map((s) => ({
    from: metres(s.fromMetres),
    factor: s.factor,
  }));
  if (first === undefined) throw new Error(`impact table "${name}" has no steps`);
  return { name, steps: [first, ...rest] };
};

export const depthTable: DepthTable = (() => {
  const name = "H-20 by depth, from memory";
  const [first, ...rest] = loads.depthTables[name].rows.map((row) => ({
    cover: metres(row.coverMetres),
    pressure: kilopascals(row.kilopascals),
  }));
  if (first === undefined) throw new Error(`depth table "${name}" has no rows`);
  return { name, rows: [first, ...rest] };
})();

export const spread = (soil: keyof typeof loads.spread.growth): PatchSpread => ({
  patchLength: millimetres(loads.spread.patchLengthMillimetres),
  patchWidth: millimetres(loads.spread.patchWidthMillimetres),
  growth: loads.spread.growth[soil],
  multiplePresence: loads.spread.multiplePresence,
  dynamicAtSurface: fraction(loads.spread.dynamicAtSurface),
  dynamicVanishesAt: metres(loads.spread.dynamicVanishesAtMetres),
});

export const boussinesq = (impactName: keyof typeof loads.impact = "none"): LiveLoadMethod => ({
  kind: "boussinesq",
  wheel: wheel("H-20"),
  impact: impact(impactName),
  loadedLength: metres(loads.loadedLength.metres),
});

export const noLiveLoad: LiveLoadMethod = { kind: "none" };
export const stated = (pressure: number): LiveLoadMethod => ({
  kind: "stated",
  pressure: kilopascals(pressure),
});
