import type { FlowState } from "../engineering/flow.ts";
import type { WallCheck } from "../engineering/liner-wall.ts";
import type { LiveLoadMethod } from "../engineering/surface-load.ts";
import { hasPartInMain } from "../plan/part-in-main.ts";
import { describeReason, type Reason } from "../plan/reason.ts";
import type { Stated } from "../plan/stated.ts";
import { SETTINGS_FILE } from "../program/program-files.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { chosenFor } from "../reference/basis.ts";
import { cautionsFor } from "../reference/cautions.ts";
import { describeSource, type Source } from "../reference/source.ts";
import { GLOCK, HANDBOOK, OLDER_EDITION } from "./sheet-rings.ts";
import { headsAt, type SizedLiner, type SizedRing, treatmentOf } from "./size-liner.ts";
import { workChecks, workLoads, workSecondOpinion } from "./worked-wall.ts";

/**
 * The sheet for other programs: every intermediate value, unrounded and in SI. A key ends in its unit; a value that a
 * pipe or a cure does not have is null. Keys are kept from version to version.
 */
export function sizeAsJson(sized: SizedLiner): unknown {
  const { basis, use, effluent, rings } = sized;
  const { criteria } = basis;
  const style: NumberStyle = basis.program;
  const { system, resin, cure, placing } = chosenFor(basis.liners, use);
  const reasons = (list: readonly Reason[]) =>
    list.map((reason) => ({ ...reason, text: describeReason(reason, style) }));
  return {
    sheet: "wyeplan size",
    schema: 1,
    units: "SI; the end of a key is its unit; parts and percentages as fractions",
    use,
    state: rings.length === 0 ? "refused" : sized.placed === null ? "wall only" : "placed",
    inputs: inputsAsJson(sized),
    criteria: {
      key: criteria.key,
      deterioration: criteria.deterioration,
      deterioration_by: criteria.deteriorationBy,
      edition: criteria.edition,
      strength_basis: criteria.strengthBasis,
      safety_factor: criteria.safetyFactor,
      enhancement: criteria.enhancement,
      poissons_ratio: criteria.poissonsRatio,
      soil: criteria.soil,
      soil_modulus_MPa: criteria.soilModulus,
      soil_unit_weight_kN_per_m3: criteria.soilUnitWeight,
      minimum_wall_mm: criteria.minimumWall,
      live_load_method: criteria.liveLoadMethod,
      source: sourceSaid(criteria.source),
    },
    liner: {
      system: system.key,
      label: system.label,
      resin: resin.key,
      cure: cure.key,
      placing: placing.key,
      short_term_modulus_MPa: system.shortTermModulus,
      short_term_strength_MPa: system.flexuralStrength,
      modulus_retention: system.modulusRetention,
      strength_retention: system.strengthRetention,
      source: sourceSaid(system.propertySource),
    },
    effluent: {
      kind: statedAsJson(effluent.kind),
      temperature_C: statedAsJson(effluent.temperature),
      notes: reasons(effluent.notes),
    },
    rings: rings.map((ring) => ringAsJson(ring, sized)),
    against: reasons(sized.against),
    notes: reasons(sized.notes),
    ...placedAsJson(sized),
    flow: flowAsJson(sized),
    sources: {
      wall: sourceSaid(HANDBOOK),
      older_edition: criteria.edition === "before 2007b" ? sourceSaid(OLDER_EDITION) : null,
      second_opinion: sourceSaid(GLOCK),
      stock: sourceSaid(system.stockSource),
      resin_density: sourceSaid(resin.density.source),
    },
    cautions: cautionsFor(new Set([treatmentOf[use]])).map(({ key, text, source }) => ({
      key,
      text,
      source: sourceSaid(source),
    })),
  };
}

/** An option's source is the command line, whatever file the same change would stand in. */
function sourceSaid(source: Source): string {
  if (source.document !== SETTINGS_FILE) return describeSource(source);
  const { at, ...said } = source;
  return describeSource({ ...said, document: "This command line" });
}

const statedAsJson = (value: Stated<unknown> | null) =>
  value === null ? null : { value: value.value, origin: value.origin, because: value.because };

function inputsAsJson({ inputs, pipe: { lateral, isWorn } }: SizedLiner) {
  return {
    host_diameter_mm: statedAsJson(lateral.hostDiameter),
    host_length_m: statedAsJson(lateral.hostLength),
    host_material: statedAsJson(lateral.hostMaterial),
    host_condition: isWorn ? "worn" : "sound",
    main_diameter_mm: statedAsJson(lateral.mainDiameter),
    ovality: statedAsJson(inputs?.ovality ?? null),
    cover_at_house_m: statedAsJson(inputs?.coverAtHouse ?? null),
    cover_at_main_m: statedAsJson(inputs?.coverAtMain ?? null),
    water_table_depth_m: statedAsJson(inputs?.waterTableDepth ?? null),
    surface: statedAsJson(inputs?.surface ?? null),
    bends: statedAsJson(lateral.bends),
    sharpest_bend_degrees: statedAsJson(lateral.sharpestBend),
    size_change: statedAsJson(lateral.sizeChange),
    slope: statedAsJson(lateral.slope),
    fixture_units: statedAsJson(lateral.fixtureUnits),
  };
}

const checkKeys: Readonly<Record<WallCheck, string>> = {
  buckling: "buckling_X1_1",
  bending: "bending_X1_2",
  "soil-buckling": "soil_buckling_X1_3",
  stiffness: "stiffness_X1_4",
  "largest-ratio": "largest_ratio",
};

function ringAsJson(ring: SizedRing, { basis }: SizedLiner) {
  const { worst, inputs, material, specified, crossCheck } = ring;
  const { design } = worst;
  const { criteria, program } = basis;
  const water = headsAt(ring, worst.cover);
  const load = design.externalLoad;
  return {
    part: ring.part,
    inside_diameter_mm: inputs.hostDiameter.value,
    ovality: inputs.ovality.value,
    surface: inputs.surface.value,
    material: {
      short_term_modulus_MPa: material.shortTermModulus,
      long_term_modulus_MPa: material.longTermModulus,
      short_term_strength_MPa: material.shortTermStrength,
      long_term_strength_MPa: material.longTermStrength,
    },
    live_load: liveLoadAsJson(ring.liveLoad),
    worst_cover_m: worst.cover,
    worst_cover_at: worst.at,
    loads: {
      ovality_reduction: design.ovalityReduction,
      head_over_crown_m: water.overCrown,
      head_over_invert_m: water.overInvert,
      water_pressure_kPa: design.waterPressure,
      water_buoyancy: load?.waterBuoyancy ?? null,
      soil_support: load?.soilSupport ?? null,
      water_over_crown_kPa: load?.water ?? null,
      soil_kPa: load?.soil ?? null,
      live_kPa: load?.live ?? null,
      total_kPa: load?.total ?? null,
    },
    checks_mm: Object.fromEntries(
      (Object.keys(checkKeys) as WallCheck[]).map((check) => [checkKeys[check], design.walls[check]]),
    ),
    // checks_mm are all under the worst cover; these two ask for most at the deepest end.
    deepest: {
      cover_m: worst.deepest.cover,
      head_over_invert_m: headsAt(ring, worst.deepest.cover).overInvert,
      water_pressure_kPa: worst.deepest.design.waterPressure,
      [`${checkKeys.buckling}_mm`]: worst.deepest.design.walls.buckling,
      [`${checkKeys.bending}_mm`]: worst.deepest.design.walls.bending,
    },
    governing: checkKeys[design.governing],
    wall: {
      calculated_mm: design.wall,
      dimension_ratio: design.dimensionRatio,
      specified_minimum_mm: criteria.minimumWall,
      needed_mm: Math.max(design.wall, criteria.minimumWall),
      stocked_mm: specified.kind === "specified" ? specified.stocked : null,
      decided_by: design.wall > criteria.minimumWall ? "calculation" : "specified minimum",
    },
    second_opinion:
      crossCheck === null
        ? null
        : {
            pressure_kPa: crossCheck.pressure,
            appendix_wall_mm: crossCheck.appendixWall,
            glock_wall_mm: crossCheck.glockWall,
            ratio: crossCheck.ratio,
            implied_enhancement: crossCheck.impliedEnhancement,
            ordered_dimension_ratio: crossCheck.orderedRatio,
            implied_enhancement_as_ordered: crossCheck.impliedAtOrdered,
            caution: crossCheck.caution,
          },
    worked: [
      ...workLoads(ring, criteria, program.units),
      ...workChecks(ring, criteria, program.units),
      ...workSecondOpinion(ring, criteria, program.units),
    ],
  };
}

function liveLoadAsJson(method: LiveLoadMethod) {
  switch (method.kind) {
    case "none":
      return { method: "none" };
    case "stated":
      return { method: "stated", pressure_kPa: method.pressure };
    case "boussinesq":
      return {
        method: "boussinesq",
        wheel: method.wheel.name,
        wheel_N: method.wheel.load,
        impact: method.impact.name,
        loaded_length_m: method.loadedLength,
      };
    case "spread":
      return {
        method: "spread",
        wheel: method.wheel.name,
        wheel_N: method.wheel.load,
        growth: method.spread.growth,
      };
    case "depth table":
      return { method: "depth table", table: method.table.name };
    default:
      return method satisfies never;
  }
}

function placedAsJson({ placed }: SizedLiner) {
  if (placed === null) return { connection: null, resin: null, cure: null, placing: null };
  const { liner, wetOut, cure, cureFit, forces } = placed;
  const { components, potLife } = wetOut;
  const { pull, inflation } = forces;
  return {
    connection: hasPartInMain(liner)
      ? {
          main_wall_mm: liner.mainWall,
          opening_m2: liner.takeoff.opening,
          main_sheet_m2: liner.takeoff.mainSheet,
          lateral_sheet_m2: liner.takeoff.lateralSheet,
          end_seals: liner.takeoff.endSeals,
        }
      : null,
    resin: {
      installed_length_m: liner.installedLength,
      cut_length_m: liner.cutLength,
      end_seals: liner.endSeals,
      by: wetOut.by,
      wall_L: wetOut.wall,
      volume_L: wetOut.mixed.volume,
      mass_kg: wetOut.mixed.mass,
      calibration_tube_L: wetOut.calibrationTube,
      dry_tube_kg: wetOut.fibre,
      base_kg: components.kind === "two parts" ? components.batch.base : null,
      hardener_kg: components.kind === "two parts" ? components.batch.hardener : null,
      ratio_error: components.kind === "two parts" ? components.batch.ratioError : null,
      pot_life:
        potLife.kind === "not computed"
          ? { verdict: potLife.kind, because: potLife.because }
          : {
              verdict: potLife.kind,
              needed_min: potLife.needed,
              allowed_min: potLife.allowed,
              at_C: potLife.at,
            },
    },
    cure:
      cure === null
        ? null
        : {
            method: cure.method,
            parts: cure.parts.map(({ what, from, to, time }) => ({
              what,
              from_C: from,
              to_C: to,
              time_min: time,
            })),
            curing_min: cure.curing,
            cool_down_min: cure.coolDown,
            total_min: cure.total,
            heat_on_host: cureFit?.heat.kind ?? null,
          },
    placing: {
      method: forces.method.key,
      pull:
        pull === null
          ? null
          : {
              tube_N_per_m: pull.newtonsPerMetre,
              at_winch_N: pull.pull.atWinch,
              in_tube_N: pull.pull.inTube,
              verdict: pull.verdict.kind,
            },
      groundwater_head_m: inflation.groundwaterHead,
      least_pressure_kPa: inflation.window.least,
      most_pressure_kPa: inflation.window.most,
      pressure_verdict: inflation.window.kind,
      trap_seal_kPa: inflation.trapSeal,
    },
  };
}

function flowAsJson({ flow }: SizedLiner) {
  if (flow === null) return null;
  const { capacity, design, slope } = flow;
  const own = capacity.ownRoughness;
  const state = (found: FlowState) =>
    found.kind === "part full"
      ? { kind: found.kind, depth_mm: found.depth, filling: found.filling, velocity_m_per_s: found.velocity }
      : { kind: found.kind, greatest_L_per_s: found.greatest };
  return {
    bore_mm: flow.bore,
    capacity_on_equal_n: capacity.equalRoughness,
    capacity_least: own?.least ?? null,
    capacity_most: own?.most ?? null,
    host_n: own === null ? null : { least: own.host.least, most: own.host.most },
    loses: capacity.loses,
    least_slope: slope === null ? null : { code: slope.code, asked: slope.asked, met: slope.met },
    design:
      design.kind === "not computed"
        ? { kind: design.kind, missing: design.missing }
        : {
            kind: design.kind,
            flow_L_per_s: design.flow.value,
            before: state(design.before),
            after: state(design.after),
            self_cleansing: design.cleansing,
            cleansing_slope: design.cleansingSlope,
            fixture_units: design.units,
          },
  };
}
