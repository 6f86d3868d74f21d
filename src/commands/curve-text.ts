import { drawCurve } from "../pictures/curve.ts";
import type { PicturedCurve } from "../pictures/curve-picture.ts";
import { priceInCents } from "../program/unit-prices.ts";
import { isoDate } from "../quantity/calendar.ts";
import { toShown } from "../quantity/measure.ts";
import { showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import { day } from "../quantity/si.ts";
import type { Curve } from "../season/selection/vary.ts";
import { plainTable, right } from "./plain-table.ts";
import { describeObjective, showGap, showWorth, type WorthView } from "./season-words.ts";
import type { Variation } from "./vary-words.ts";

/** What was varied: of crews, of which. */
export type Varied = Pick<Variation, "of" | "crew">;

/** A line that says what was varied, and the unit of its amounts. */
const variedWords = {
  budget: { heading: "budget", next: "unit of money" },
  crews: { heading: "crew-days", next: "crew-day" },
  season: { heading: "last day", next: "day" },
} as const satisfies Record<Variation["of"], { heading: string; next: string }>;

export const centsOf = (amount: number): number => {
  const exact = priceInCents(Math.round(amount * 100) / 100);
  if (exact === null) throw new RangeError(`centsOf: ${amount} is no amount of money`);
  return exact;
};

/** The curve with its words; worth in the unit in which it is shown. */
export function picturedOf({ points, knee }: Curve, { of, crew }: Varied, view: WorthView): PicturedCurve {
  const { lossAvoided, infiltrationRemoved } = view.rules.objective;
  const isMoney = infiltrationRemoved === 0;
  const isFlow = lossAvoided === 0;
  const shown = (worth: number): number =>
    isMoney
      ? Math.round(worth) / 100
      : isFlow
        ? toShown(worth, "flow", view.style.units)
        : (worth / (lossAvoided + infiltrationRemoved)) * 100;
  return {
    title: variedTitle({ of, crew }, view),
    xName: variedWords[of].heading,
    yName: isMoney ? view.style.currency : isFlow ? unitLabel("flow", view.style) : "% of the most",
    points: points.map(({ amount, worth }) => ({
      label: amountText(of, amount, view),
      y: worth === null ? null : shown(worth),
      isKnee: amount === knee,
    })),
  };
}

export function amountText(of: Variation["of"], amount: number, view: WorthView): string {
  switch (of) {
    case "budget":
      return showQuantity(centsOf(amount), "money", view.style);
    case "crews":
      return `${amount} crew-days`;
    case "season":
      return isoDate(day(amount));
    default:
      return of satisfies never;
  }
}

export function curveText(curve: Curve, { of, crew }: Varied, view: WorthView, columns: number): string {
  const amountOf = (amount: number) => amountText(of, amount, view);
  const { heading, next } = variedWords[of];
  const rows = curve.points.map(({ amount, worth, gap }, i) => {
    const marginal = curve.marginal[i];
    return [
      `${amountOf(amount)}${amount === curve.knee ? "  ◆" : ""}`,
      worth === null ? "no season keeps the rules" : showWorth(worth, view),
      worth === null ? "" : showGap(gap),
      marginal === null || marginal === undefined ? "" : marginalText(marginal, of, view),
    ];
  });
  const picture = drawCurve(
    curve.points.map(({ amount, worth }) => ({
      x: amount,
      y: worth,
      ...(amount === curve.knee ? { mark: "◆" } : {}),
    })),
    Math.max(20, Math.min(72, columns - 4)),
    12,
  );
  return [
    variedTitle({ of, crew }, view),
    plainTable([right(heading), right("worth"), right("gap"), right(`next ${next} adds`)], rows),
    picture.map((line) => `│ ${line}`.trimEnd()).join("\n"),
    curve.knee === null
      ? "No knee: each step adds about as much as the whole does on average."
      : `◆ the knee, ${amountOf(curve.knee)}: beyond it a further unit adds less than the whole range does on average.`,
    ...(of === "season"
      ? [
          "Crew-days of each kind are those of the calendar up to its last day, or those of crew_days where they are fewer; mobilization and waiting are not taken off them.",
        ]
      : []),
  ].join("\n\n");
}

const variedTitle = (varied: Varied, { rules, pays }: WorthView): string =>
  `${titleOf(varied)} varied: ${describeObjective(rules)}${pays === "city share" ? "; the budget counts the city's share of cost" : ""}`;

export const titleOf = ({ of, crew }: Varied): string =>
  of === "budget" ? "Budget" : of === "crews" ? `Crew-days of ${crew}` : "Last day of the season";

function marginalText(marginal: number, of: Variation["of"], view: WorthView): string {
  const { lossAvoided, infiltrationRemoved } = view.rules.objective;
  // Worth is in cents and the budget in units of money.
  if (infiltrationRemoved === 0)
    return of === "budget"
      ? (marginal / 100).toFixed(2)
      : showQuantity(Math.round(marginal), "money", view.style);
  if (lossAvoided === 0) return `${marginal.toPrecision(3)} L/s`;
  return `${((marginal / (lossAvoided + infiltrationRemoved)) * 100).toPrecision(3)} %`;
}
