import { surfaces } from "../columns/lateral-columns.ts";
import { resinForFelt, resinForGlass } from "../engineering/resin.ts";
import { specifyWall } from "../engineering/specified-wall.ts";
import type { LiveLoadMethod } from "../engineering/surface-load.ts";
import { wallVolume } from "../engineering/wall-volume.ts";
import { explainLiveLoad, explainWallDesign, explainWallInputs } from "../plan/explain-wall.ts";
import { line } from "../plan/explained-line.ts";
import { materialAt } from "../plan/liner-material.ts";
import { describeReason } from "../plan/reason.ts";
import { type Stated, stated } from "../plan/stated.ts";
import { calculateWall, liveLoadUnder, type WallInputsStated } from "../plan/wall.ts";
import { type QuantityMeasure, quantities, type UnitSystem } from "../quantity/measure.ts";
import { readNumber, readQuantity } from "../quantity/quantity-text.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import { celsius, fraction, kilogramsPerLitre, kilopascals, metres, millimetres } from "../quantity/si.ts";
import { houseAssumptions } from "../reference/assumptions.ts";
import { cautionsFor } from "../reference/cautions.ts";
import {
  designCriteriaSchema,
  designCriteriaSets,
  houseSurfaceWheels,
  RAIL,
} from "../reference/design-criteria.ts";
import { type LinerSystem, linerSystemSchema, linerSystems } from "../reference/liner-systems.ts";
import { liveLoads } from "../reference/live-loads.ts";
import { type Resin, resins } from "../reference/resins.ts";
import { describeSource } from "../reference/source.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { explainedText } from "./explained-text.ts";

/** Options as typed: every value is text and carries its own unit where it has one. */
export interface SizeOptions {
  readonly host: string;
  readonly cover?: string;
  readonly coverHouse?: string;
  readonly coverMain?: string;
  readonly water?: string;
  readonly ovality?: string;
  readonly surface?: string;
  readonly length?: string;
  readonly liveLoad?: string;
  readonly design?: string;
  readonly system?: string;
  readonly deterioration?: string;
  readonly deteriorationBy?: string;
  readonly edition?: string;
  readonly strengthBasis?: string;
  readonly safetyFactor?: string;
  readonly enhancement?: string;
  readonly poisson?: string;
  readonly soilModulus?: string;
  readonly soilWeight?: string;
  readonly minimumWall?: string;
  readonly wheel?: string;
  readonly liveLoadMethod?: string;
  readonly impact?: string;
  readonly modulus?: string;
  readonly strength?: string;
  readonly modulusRetention?: string;
  readonly strengthRetention?: string;
  readonly units?: string;
  readonly json?: boolean;
}

/** Something typed that cannot be used, for people. */
class OptionError extends Error {}

/**
 * `wyeplan size`: one liner wall with every intermediate value, for a check against a handbook. Every design input
 * can be set; what is not set is a named default, shown as such.
 */
export function sizeOne(options: SizeOptions, io: CommandIo): ExitCode {
  try {
    return print(options, io);
  } catch (error) {
    if (!(error instanceof OptionError)) throw error;
    io.err(`${error.message}\n`);
    return EXIT.notDone;
  }
}

function print(options: SizeOptions, io: CommandIo): ExitCode {
  const units = oneOf(options.units ?? "us", ["us", "si"] as const, "--units");
  const style: NumberStyle = { units, currency: "" };
  const system = chooseSystem(options);
  const criteria = chooseCriteria(options);
  const inputs = readInputs(options, units);
  const liveLoad = chooseLiveLoad(options, inputs, criteria);
  const temperature = celsius(houseAssumptions.effluent_temperature.value);
  const material = materialAt(system, temperature);
  if (material === null) {
    const reason = { code: "no long-term modulus", system: system.label, temperature } as const;
    io.err(
      `No wall: ${describeReason(reason, style)}. Give --modulus-retention and --strength-retention from the owner's creep tests.\n`,
    );
    return EXIT.notDone;
  }
  const worst = calculateWall(inputs, liveLoad, material, criteria);
  if (worst.kind === "refused") {
    io.err(`No wall: ${describeReason({ code: "wall design refused", refusal: worst }, style)}.\n`);
    return EXIT.notDone;
  }
  const minimum = millimetres(criteria.minimumWall);
  const specified = specifyWall(worst.design.wall, minimum, system.stockedWalls.map(millimetres));
  const resin = resins.find((candidate) => candidate.key === system.resin);
  if (resin === undefined) throw new RangeError(`sizeOne: system ${system.key} names no known resin`);

  const length = options.length === undefined ? null : metres(quantity(options.length, "length", "--length"));
  const mixed =
    length === null || specified.kind === "refused"
      ? null
      : resinOf(system, resin, wallVolume(inputs.hostDiameter.value, specified.stocked, length));
  if (options.json === true) {
    io.out(
      `${JSON.stringify({ units: "SI: m, mm, kPa, MPa, L, kg", inputs, criteria, system, liveLoad, worst, specified, resin: mixed }, null, 2)}\n`,
    );
    return EXIT.done;
  }

  const stages = [
    { stage: "Inputs", lines: explainWallInputs(inputs, style) },
    {
      stage: "Design by ASTM F1216, Appendix X1",
      lines: [
        explainLiveLoad(liveLoad, criteria, style),
        ...explainWallDesign(worst, { system, material }, criteria, style),
      ],
    },
    {
      stage: "Wall",
      lines: [
        line(
          "calculated",
          `${showQuantity(worst.design.wall, "wall", style)} (${inches(worst.design.wall)})`,
          null,
          `DR ${worst.design.dimensionRatio.toFixed(1)}`,
        ),
        line(
          "specified minimum",
          showQuantity(minimum, "wall", style),
          null,
          describeSource(criteria.source),
        ),
        specified.kind === "refused"
          ? line("stocked", `none is thick enough: ${showQuantity(specified.needed, "wall", style)} needed`)
          : line(
              "stocked",
              showQuantity(specified.stocked, "wall", style),
              "assumed",
              describeSource(system.stockSource),
            ),
      ],
    },
    ...(mixed === null
      ? []
      : [
          {
            stage: "Resin",
            lines: [
              line(
                `for ${showQuantity(length ?? 0, "length", style)} wet out`,
                `${showQuantity(mixed.volume, "volume", style)} (${showQuantity(mixed.mass, "mass", style)})`,
                "assumed" as const,
                `${system.tube.kind}, excess ${system.excess}, ${resin.density.used.toFixed(3)} kg/L`,
              ),
            ],
          },
        ]),
    {
      stage: "Cautions",
      lines: cautionsFor(new Set(["full-length liner"])).map((caution) => line(caution.key, caution.text)),
    },
  ];
  io.out(`${explainedText(stages)}\n`);
  return EXIT.done;
}

const inches = (wall: number): string => `${(wall / 25.4).toFixed(4)} in`;

function resinOf(system: LinerSystem, resin: Resin, wall: ReturnType<typeof wallVolume>) {
  const { tube } = system;
  const poured = { excess: fraction(system.excess), density: kilogramsPerLitre(resin.density.used) };
  if (tube.kind === "felt") return resinForFelt(wall, { voids: fraction(tube.voidRatio), ...poured });
  const fibreDensity = kilogramsPerLitre(tube.fibreDensity);
  return resinForGlass(wall, {
    fibreMassFraction: fraction(tube.fibreMassFraction),
    fibreDensity,
    ...poured,
  });
}

function readInputs(options: SizeOptions, units: UnitSystem): WallInputsStated {
  const cover = options.cover;
  const length = (text: string | undefined, name: string): Stated<number> | null =>
    text === undefined ? null : stated(quantity(text, "length", name), "decided", name);
  const both = length(cover, "--cover");
  const house = length(options.coverHouse, "--cover-house") ?? both;
  const main = length(options.coverMain, "--cover-main") ?? both;
  const { cover: assumedCover, water_table_depth: water, ovality, surface } = houseAssumptions;
  const assume = (value: number, label: string) => stated(value, "assumed", label);
  const coverAtHouse = house ?? main ?? assume(assumedCover.value, assumedCover.label);
  const coverAtMain = main ?? house ?? assume(assumedCover.value, assumedCover.label);
  const host = quantity(options.host, "diameter", "--host", units);
  return {
    hostDiameter: stated(millimetres(host), "decided", "--host"),
    ovality:
      options.ovality === undefined
        ? stated(fraction(ovality.value), "assumed", ovality.label)
        : stated(fraction(quantity(options.ovality, "percent", "--ovality")), "decided", "--ovality"),
    coverAtHouse: { ...coverAtHouse, value: metres(coverAtHouse.value) },
    coverAtMain: { ...coverAtMain, value: metres(coverAtMain.value) },
    waterTableDepth:
      options.water === undefined
        ? stated(metres(water.value), "assumed", water.label)
        : stated(metres(quantity(options.water, "length", "--water")), "decided", "--water"),
    surface:
      options.surface === undefined
        ? stated(surface.value, "assumed", surface.label)
        : stated(oneOf(options.surface, surfaces, "--surface"), "decided", "--surface"),
  };
}

function chooseLiveLoad(
  options: SizeOptions,
  inputs: WallInputsStated,
  criteria: (typeof designCriteriaSets)[number],
): LiveLoadMethod {
  if (options.liveLoad !== undefined) {
    return { kind: "stated", pressure: kilopascals(quantity(options.liveLoad, "pressure", "--live-load")) };
  }
  oneOf(criteria.wheel, [...Object.keys(liveLoads.wheels), RAIL], "--wheel");
  oneOf(criteria.impactTable, Object.keys(liveLoads.impact), "--impact");
  const method = liveLoadUnder(inputs.surface.value, {
    criteria,
    surfaceWheels: houseSurfaceWheels,
    liveLoads,
  });
  if (method === null)
    throw new OptionError("--live-load: a railway's load is left to an engineer. State it with its unit.");
  return method;
}

function chooseCriteria(options: SizeOptions) {
  const keys = designCriteriaSets.map((set) => set.key);
  const key = options.design === undefined ? keys[0]! : oneOf(options.design, keys, "--design");
  const base = designCriteriaSets.find((set) => set.key === key)!;
  const changes = {
    ...textual("deterioration", options.deterioration),
    ...textual("deteriorationBy", options.deteriorationBy),
    ...textual("edition", options.edition),
    ...textual("strengthBasis", options.strengthBasis),
    ...textual("wheel", options.wheel),
    ...textual("liveLoadMethod", options.liveLoadMethod),
    ...textual("impactTable", options.impact),
    ...numeric("safetyFactor", options.safetyFactor, "--safety-factor"),
    ...numeric("enhancement", options.enhancement, "--enhancement"),
    ...numeric("poissonsRatio", options.poisson, "--poisson"),
    ...measured("soilModulus", options.soilModulus, "modulus", "--soil-modulus"),
    ...measured("soilUnitWeight", options.soilWeight, "unit_weight", "--soil-weight"),
    ...measured("minimumWall", options.minimumWall, "wall", "--minimum-wall"),
  };
  return parsed(designCriteriaSchema, { ...base, ...changed(base.key, changes), ...changes });
}

function chooseSystem(options: SizeOptions) {
  const keys = linerSystems.map((system) => system.key);
  const key = options.system === undefined ? keys[0]! : oneOf(options.system, keys, "--system");
  const base = linerSystems.find((system) => system.key === key)!;
  const changes = {
    ...measured("shortTermModulus", options.modulus, "modulus", "--modulus"),
    ...measured("flexuralStrength", options.strength, "modulus", "--strength"),
    ...measured("modulusRetention", options.modulusRetention, "percent", "--modulus-retention"),
    ...measured("strengthRetention", options.strengthRetention, "percent", "--strength-retention"),
  };
  return parsed(linerSystemSchema, { ...base, ...changes });
}

/** A set with changes no longer stands under its source's name alone. */
const changed = (key: string, changes: Readonly<Record<string, unknown>>) =>
  Object.keys(changes).length === 0
    ? {}
    : { key: `${key}, with ${Object.keys(changes).join(", ")} from the command line` };

const textual = (key: string, text: string | undefined) => (text === undefined ? {} : { [key]: text });

function numeric(key: string, text: string | undefined, option: string) {
  if (text === undefined) return {};
  const number = readNumber(text, ".");
  if (!number.ok)
    throw new OptionError(`${option}: found ${JSON.stringify(text)}, expected ${number.expected}.`);
  return { [key]: number.value };
}

const measured = (key: string, text: string | undefined, measure: QuantityMeasure, option: string) =>
  text === undefined ? {} : { [key]: quantity(text, measure, option) };

/** A quantity that carries its own unit; a bare number is refused, except where a system of units says what it is. */
function quantity(text: string, measure: QuantityMeasure, option: string, bare?: UnitSystem): number {
  const { us, si } = quantities[measure];
  const plain = readNumber(text, ".");
  if (plain.ok && bare === undefined && measure !== "percent") {
    throw new OptionError(
      `${option}: found ${JSON.stringify(text)}, expected a number with its unit. Write "${text} ${us === "in" ? "in" : us}" or "${text} ${si}".`,
    );
  }
  const value = readQuantity(text, measure, bare === undefined ? si : quantities[measure][bare]);
  if (!value.ok)
    throw new OptionError(`${option}: found ${JSON.stringify(text)}, expected ${value.expected}.`);
  return value.value;
}

function oneOf<Word extends string>(text: string, words: readonly Word[], option: string): Word {
  const found = words.find((word) => word === text);
  if (found === undefined)
    throw new OptionError(`${option}: found ${JSON.stringify(text)}, expected one of: ${words.join("; ")}.`);
  return found;
}

function parsed<T>(
  schema: {
    safeParse(
      value: unknown,
    ):
      | { success: true; data: T }
      | { success: false; error: { issues: readonly { path: PropertyKey[]; message: string }[] } };
  },
  value: unknown,
): T {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  throw new OptionError(
    result.error.issues
      .map((issue) => `${issue.path.map(String).join(".") || "options"}: ${issue.message}`)
      .join("\n"),
  );
}
