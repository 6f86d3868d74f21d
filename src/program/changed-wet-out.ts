import { housePotLifeMargin, type PotLifeMargin, type Resin } from "../reference/resins.ts";
import { houseWetOutRules, type WetOutRules, wetOutRulesSchema } from "../reference/wet-out-rules.ts";
import { changedSource, checkedTable } from "./changed-table.ts";
import { type Fault, faultAt } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { partOf, typedValue } from "./written-values.ts";

/** Forecast, scale, containers and times of wetting out. */
export function layWetOut(settings: Settings, faults: Fault[]): WetOutRules | null {
  const changes = settings.criteria?.wet_out;
  if (changes === undefined) return houseWetOutRules;
  const house = houseWetOutRules;
  const at = ["criteria", "wet_out"];
  const group = (keys: readonly (keyof typeof changes)[], source: Parameters<typeof changedSource>[1]) => {
    const said = keys.filter((key) => changes[key] !== undefined);
    return said.length === 0 ? source : changedSource(at.join("."), source, `Changes ${said.join(", ")}.`);
  };
  const kilograms = (written: string | undefined, base: number) =>
    written === undefined ? base : typedValue(written, "mass");
  const { containers, forecastTemperature, times, scale } = house;
  const table = {
    ...house,
    forecastTemperature: {
      value:
        changes.forecast_temperature === undefined
          ? forecastTemperature.value
          : typedValue(changes.forecast_temperature, "temperature"),
      source: group(["forecast_temperature"], forecastTemperature.source),
    },
    times: {
      ...times,
      haul: changes.haul_minutes ?? times.haul,
      source: group(["haul_minutes"], times.source),
    },
    scale: {
      step: kilograms(changes.scale_step, scale.step),
      ratioTolerance:
        changes.ratio_tolerance === undefined ? scale.ratioTolerance : partOf(changes.ratio_tolerance),
      source: group(["scale_step", "ratio_tolerance"], scale.source),
    },
    containers: {
      resin: kilograms(changes.containers?.resin, containers.resin),
      base: kilograms(changes.containers?.base, containers.base),
      hardener: kilograms(changes.containers?.hardener, containers.hardener),
      waste: changes.waste === undefined ? containers.waste : partOf(changes.waste),
      kit:
        changes.kit === undefined
          ? containers.kit
          : {
              base: typedValue(changes.kit.base, "mass"),
              hardener: typedValue(changes.kit.hardener, "mass"),
            },
      source: group(["containers", "waste", "kit"], containers.source),
    },
  };
  return checkedTable(wetOutRulesSchema, table, settings, at, {}, faults);
}

export function layPotLifeMargin(settings: Settings, faults: Fault[]): PotLifeMargin | null {
  const written = settings.criteria?.wet_out?.pot_life_margin;
  if (written === undefined) return housePotLifeMargin;
  const used = partOf(written);
  if (used > 0 && used <= 1) {
    const at = "criteria.wet_out.pot_life_margin";
    return { used, source: changedSource(at, housePotLifeMargin.source, "Changes the margin.") };
  }
  faults.push(faultAt(settings, ["criteria", "wet_out", "pot_life_margin"], "above 0 and at most 1"));
  return null;
}

/** The program's own mix and pot life, for its two-part resins. */
export function changedResin(resin: Resin, settings: Settings): Resin {
  const changes = settings.criteria?.wet_out;
  if (resin.mix === undefined) return resin;
  const at = (key: string) => `criteria.wet_out.${key}`;
  const { mix, pot_life: life } = changes ?? {};
  const density = (written: string | undefined, base: number) =>
    written === undefined ? base : typedValue(written, "density");
  return {
    ...resin,
    ...(mix === undefined
      ? {}
      : {
          mix: {
            basis: mix.basis,
            base: mix.base,
            hardener: mix.hardener,
            baseDensity: density(mix.base_density, resin.mix.baseDensity),
            hardenerDensity: density(mix.hardener_density, resin.mix.hardenerDensity),
            source: changedSource(at("mix"), resin.mix.source, "Changes the mix."),
          },
        }),
    ...(life === undefined || resin.potLife === undefined
      ? {}
      : {
          potLife: {
            minutes: life.minutes,
            atCelsius: typedValue(life.at, "temperature"),
            factorPerTenDegrees: life.factor_per_ten_degrees ?? resin.potLife.factorPerTenDegrees,
            source: changedSource(at("pot_life"), resin.potLife.source, "Changes the pot life."),
          },
        }),
  };
}
