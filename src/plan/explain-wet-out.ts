import { type NumberStyle, showLimit, showQuantity } from "../quantity/show-quantity.ts";
import type { Basis, ChosenLiner } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { Liner } from "./liner.ts";
import type { PotLifeCheck, WetOut } from "./wet-out.ts";

/** Mixed resin, what goes on the scale, and whether there is time. */
export function explainWetOut(
  wetOut: WetOut,
  kind: NonNullable<Liner>["kind"],
  { system, resin }: ChosenLiner,
  { wetOut: rules, shopChart, potLifeMargin }: Pick<Basis, "wetOut" | "shopChart" | "potLifeMargin">,
  style: NumberStyle,
): ExplainedLine[] {
  const mass = (kilograms: number) => showQuantity(kilograms, "mass", style);
  return [
    line(
      "mixed resin",
      `${showQuantity(wetOut.millilitres / 1000, "volume", style)} (${mass(wetOut.mixed.mass)})`,
      "assumed",
      `${equationOf(wetOut, kind, system)}; density ${resin.density.used.toFixed(3)} kg/L. ${describeSource(
        wetOut.by === "shop chart" && shopChart !== null ? shopChart.source : system.tubeSource,
      )} ${describeSource(resin.density.source)}`,
    ),
    ...(wetOut.calibrationTube === null
      ? []
      : [
          line(
            "of it in the calibration tube",
            showQuantity(wetOut.calibrationTube, "volume", style),
            "assumed",
            "stays in the pipe and is soaked too: ASTM F1743-22, terminology",
          ),
        ]),
    ...explainComponents(wetOut, resin, rules, style),
    ...explainPotLife(wetOut.potLife, rules, potLifeMargin, style),
  ];
}

const wallBy: Readonly<Record<NonNullable<Liner>["kind"], string>> = {
  "full length": "π·(D − t)·t × length",
  section: "π·(D − t)·t × length",
  connection: "wall of both parts, by the joint's geometry,",
  "one piece": "wall of both parts, by the joint's geometry, and π·(D − t)·t of run-in and run-out,",
};

function equationOf(
  { by }: WetOut,
  kind: NonNullable<Liner>["kind"],
  { tube, excess }: ChosenLiner["system"],
): string {
  if (by === "shop chart") return "the shop's mass for each length × length cut, with no excess added";
  return tube.kind === "felt"
    ? `${wallBy[kind]} × void ${tube.voidRatio} × (1 + ${excess})`
    : `wall × (1 − v_f) × (1 + ${excess}), v_f = (w/ρ_f)/(w/ρ_f + (1 − w)/ρ_r), w ${tube.fibreMassFraction} of fibre by mass`;
}

function explainComponents(
  { components }: WetOut,
  { mix }: ChosenLiner["resin"],
  { scale }: Basis["wetOut"],
  style: NumberStyle,
): ExplainedLine[] {
  if (components.kind === "as supplied" || mix === undefined)
    return [line("components", "as supplied: what starts the cure is added by the supplier's table")];
  const mass = (kilograms: number) =>
    `${showQuantity(kilograms, "mass", style)} (${kilograms.toFixed(3)} kg)`;
  const { batch, ratio } = components;
  return [
    line(
      "mix",
      `${mix.base} : ${mix.hardener} ${mix.basis}`,
      "assumed",
      mix.basis === "by weight"
        ? describeSource(mix.source)
        : `${ratio.base.toFixed(2)} : ${ratio.hardener.toFixed(2)} by weight. ${describeSource(mix.source)}`,
    ),
    line(
      "base, hardener on the scale",
      `${mass(batch.base)}, ${mass(batch.hardener)}`,
      null,
      `each rounded up to ${scale.step} kg; ratio off by ${showQuantity(batch.ratioError, "percent", style)}. ${describeSource(scale.source)}`,
    ),
    ...(batch.withinTolerance
      ? []
      : [line("warning", "rounding moves the ratio out of its tolerance: use a finer scale")]),
  ];
}

function explainPotLife(
  check: PotLifeCheck,
  { forecastTemperature, times }: Basis["wetOut"],
  margin: Basis["potLifeMargin"],
  style: NumberStyle,
): ExplainedLine[] {
  if (check.kind === "not computed") return [line("pot life", `not computed: ${check.because}`)];
  const time = (minutes: number) => showQuantity(minutes, "duration", style);
  const heat = (celsius: number) => showQuantity(celsius, "temperature", style);
  return [
    line(
      "from mixing to place",
      `${time(check.needed)} of ${time(check.allowed)} allowed at ${heat(check.at)}`,
      "assumed",
      `wet-out + haul + insertion ≤ ${margin.used} × pot life, t = t₀·f^(−(T − T₀)/10). ${describeSource(times.source)} ${describeSource(forecastTemperature.source)}`,
    ),
    check.kind === "fits"
      ? line("pot life", "there is time", null, "a bucket heats itself: an upper bound")
      : line(
          "pot life",
          `too short: works up to ${showLimit(check.hottest, "temperature", style)}; chill the resin, take a slower hardener, or use more hands`,
        ),
  ];
}
