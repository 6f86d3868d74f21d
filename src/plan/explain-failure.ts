import type { Band } from "../engineering/band.ts";
import { failureModes } from "../engineering/failure-probability.ts";
import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import { showDailyFlow } from "../quantity/summed-flow.ts";
import type { Basis } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { PlannedLateral } from "./plan-lateral.ts";

/** How a lateral may fail in the coming year and what that costs, mode by mode, with equations, bounds and sources. */
export function explainFailure(
  { condition, failure }: PlannedLateral,
  basis: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  const { wording, structural, reading, blockage, infiltration } = basis.failureModes;
  const equations = {
    structural: `λ = −ln(1 − c)/T, p = 1 − e^−λ, worn on since the survey; bounds by surveys misread (${describeSource(reading.source)}). ${describeSource(structural.source)}`,
    blockage: `p = 1 − (r/(r + 1))^a, a = m·s + n, r = s + T; backups move this chance only. ${describeSource(blockage.source)}`,
    infiltration: `by structural grade. ${describeSource(infiltration.source)}`,
  };
  const grade = condition.structural?.value;
  return [
    ...(grade === undefined
      ? []
      : [
          line(
            `published wording of grade ${grade}`,
            wording.byGrade[grade] ?? "none",
            null,
            `guidance, never a date. ${describeSource(wording.source)}`,
          ),
        ]),
    ...failureModes.map((mode) => {
      const { value, origin, because } = failure.chances[mode];
      return line(
        `chance of ${modeWords[mode]}`,
        `${inBand(value, (p) => showQuantity(p, "percent", style))} ${within[mode]}`,
        origin,
        because === null ? equations[mode] : `${because}. ${equations[mode]}`,
      );
    }),
    ...explainWater(failure, basis, style),
    ...explainMoney(failure, basis, style),
    line("bias", BIAS),
  ];
}

/** What bends the picture, in one line; the city's fits carry it at length. */
export const BIAS =
  "surveys after complaints make the rest look worse than it is; pipes already renewed make the old look better; misread surveys make the young look worse and the old better";

/** The time in which each chance stands. */
const within = {
  structural: "a year",
  blockage: "a year",
  infiltration: "in the season of high groundwater",
} as const;

const modeWords = {
  structural: "structural failure",
  blockage: "a blockage",
  infiltration: "leaking",
} as const;

/** `1.2 % (0.4 % to 3.0 %)`. */
export const inBand = ({ least, best, most }: Band, show: (value: number) => string): string =>
  `${show(best)} (${show(least)} to ${show(most)})`;

function explainWater(
  { infiltration: water }: PlannedLateral["failure"],
  { failureModes: { infiltration } }: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  if (water === null)
    return [line("infiltration", "not computed", null, "diameter or length is unknown, or nothing leaks")];
  const { highSeason, year } = water.value;
  return [
    line(
      "infiltration, season of high groundwater",
      `${showQuantity(highSeason, "flow", style)}, ${showDailyFlow(highSeason, style)}`,
      water.origin,
      `Q = r·D·L·p/p̄, a seasonal mean, never a peak. ${describeSource(infiltration.unitRate.source)}`,
    ),
    line(
      "infiltration, mean of the year",
      `${showQuantity(year, "flow", style)}, ${showDailyFlow(year, style)}`,
      water.origin,
    ),
  ];
}

function explainMoney(
  { money, infiltration }: PlannedLateral["failure"],
  { failureCosts: costs, life }: Basis,
  style: NumberStyle,
): ExplainedLine[] {
  if (money === null || costs === null)
    return [
      line(
        "expected loss",
        "not computed",
        null,
        "the table of failure costs is in another currency: give the program its own, criteria.failure_costs",
      ),
    ];
  const shown = (cents: number) => showQuantity(Math.round(cents), "money", style);
  const parts = failureModes.map((mode) =>
    line(
      `cost of ${modeWords[mode]}`,
      money.parts[mode]
        .map(({ what, amount, times }) => `${what} ${shown(amount)}${times === 1 ? "" : ` × ${times}`}`)
        .join(" + "),
      "assumed",
      mode === "structural"
        ? `under a ${money.surface.value}${money.surface.origin === "assumed" ? " (assumed)" : ""}. ${describeSource(costs.digUp.source)}`
        : mode === "infiltration"
          ? infiltration === null
            ? "left out: its flow is unknown"
            : `a year of a lateral that leaks. ${describeSource(costs.treatment.source)}`
          : describeSource(costs.clearing.source),
    ),
  );
  return [
    ...parts,
    line(
      "expected loss",
      `${inBand(money.annualLoss, shown)} a year`,
      "assumed",
      "Σ p·C over the modes; bounds as if all modes were at theirs together",
    ),
    line(
      "present loss",
      inBand(money.presentLoss, shown),
      "assumed",
      `left as it is for ${life.horizonYears} years at ${showQuantity(life.discountRate, "percent", style)}: structural failure once, the others every year. ${describeSource(life.source)}`,
    ),
  ];
}
