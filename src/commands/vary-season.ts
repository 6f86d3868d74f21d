import { crewKinds } from "../columns/plan-columns.ts";
import { drawCurve } from "../pictures/curve.ts";
import type { PicturedCurve } from "../pictures/curve-picture.ts";
import { priceInCents } from "../program/unit-prices.ts";
import { isoDate } from "../quantity/calendar.ts";
import { toShown } from "../quantity/measure.ts";
import { showQuantity, unitLabel } from "../quantity/show-quantity.ts";
import { day } from "../quantity/si.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { crewDaysOf } from "../season/season-fit.ts";
import { type Curve, readCurve } from "../season/selection/vary.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf } from "./load-program.ts";
import { plainTable } from "./plain-table.ts";
import { toSolve, viewOf } from "./season-view.ts";
import { describeObjective, type SeasonView, showWorth } from "./season-words.ts";
import { solveInThread } from "./solve-in-thread.ts";
import { readVariation, type Variation } from "./vary-words.ts";
import { isPictureName, writePicture } from "./write-picture.ts";

/** `wyeplan season FOLDER --vary budget 500000..3000000 by 250000`: what more or less of one thing would change. */
export async function varySeason(
  program: PlannedProgram,
  view: SeasonView,
  options: {
    readonly vary: readonly string[];
    readonly json?: boolean;
    readonly gap: number;
    readonly picture?: string;
  },
  io: CommandIo,
): Promise<ExitCode> {
  const read = readVariation(options.vary, crewKinds);
  if (!read.ok) {
    io.err(`${read.why}\n`);
    return EXIT.notDone;
  }
  if (options.picture !== undefined && !isPictureName(options.picture, io)) return EXIT.notDone;
  const { variation } = read;
  const { calendar, seasonDays } = program.basis;
  if (variation.of === "season" && calendar === null) {
    io.err('--vary season needs the season\'s calendar: add "season": { "calendar": … } to program.json.\n');
    return EXIT.notDone;
  }
  const seasons = variation.amounts.map((amount) => {
    const { rules } = view;
    switch (variation.of) {
      case "budget":
        return toSolve(viewOf(program, { ...rules, budget: centsOf(amount) }));
      case "crews":
        return toSolve(
          viewOf(program, { ...rules, crewDays: { ...rules.crewDays, [variation.crew ?? ""]: amount } }),
        );
      case "season": {
        if (calendar === null) throw new RangeError("varySeason: a season without a calendar");
        const varied = { ...calendar, ends: isoDate(day(amount)) };
        const has = crewDaysOf(varied, seasonDays);
        return toSolve(viewOf(program, { ...rules, crewDays: noMoreThan(rules.crewDays, has) }, varied));
      }
      default:
        return variation.of satisfies never;
    }
  });
  const solved = await solveInThread(seasons, { gap: options.gap });
  const curve = readCurve(
    variation.amounts.flatMap((amount, i) => {
      const selection = solved[i]?.selection;
      if (selection === undefined) return [];
      return [
        selection.ok
          ? { amount, worth: selection.worth, gap: selection.gap }
          : { amount, worth: null, gap: Number.NaN },
      ];
    }),
  );
  io.out(
    options.json === true
      ? `${JSON.stringify({ vary: variation, ...curve }, null, 2)}\n`
      : `${curveText(curve, variation, view, io.columns ?? 80)}\n`,
  );
  if (options.picture !== undefined) {
    const { pictureCurve } = await import("../pictures/curve-picture.ts");
    await writePicture(options.picture, pictureCurve(picturedOf(curve, variation, view)), io);
  }
  return exitCodeOf(program);
}

/** Of crew-days stated and crew-days a calendar has, the fewer; none stated is no limit but the calendar's. */
const noMoreThan = (
  stated: Readonly<Partial<Record<string, number>>>,
  has: Readonly<Record<string, number>>,
): Readonly<Record<string, number>> =>
  Object.fromEntries(
    Object.entries(has).map(([crew, days]) => [crew, Math.min(stated[crew] ?? Infinity, days)]),
  );

/** A line that says what was varied, and the unit of its amounts. */
const variedWords = {
  budget: { heading: "budget", next: "unit of money" },
  crews: { heading: "crew-days", next: "crew-day" },
  season: { heading: "last day", next: "day" },
} as const satisfies Record<Variation["of"], { heading: string; next: string }>;

const centsOf = (amount: number): number => {
  const exact = priceInCents(Math.round(amount * 100) / 100);
  if (exact === null) throw new RangeError(`varySeason: ${amount} is no amount of money`);
  return exact;
};

/** The curve with its words; worth in the unit in which it is shown. */
function picturedOf({ points, knee }: Curve, { of, crew }: Variation, view: SeasonView): PicturedCurve {
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
    title: `${titleOf({ of, crew })} varied: ${describeObjective(view.rules)}`,
    xName: variedWords[of].heading,
    yName: isMoney ? view.style.currency : isFlow ? unitLabel("flow", view.style) : "% of the most",
    points: points.map(({ amount, worth }) => ({
      label: amountText(of, amount, view),
      y: worth === null ? null : shown(worth),
      isKnee: amount === knee,
    })),
  };
}

function amountText(of: Variation["of"], amount: number, view: SeasonView): string {
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

function curveText(curve: Curve, { of, crew }: Variation, view: SeasonView, columns: number): string {
  const amountOf = (amount: number) => amountText(of, amount, view);
  const { heading, next } = variedWords[of];
  const rows = curve.points.map(({ amount, worth, gap }, i) => {
    const marginal = curve.marginal[i];
    return [
      `${amountOf(amount)}${amount === curve.knee ? "  ◆" : ""}`,
      worth === null ? "no season keeps the rules" : showWorth(worth, view),
      worth === null ? "" : `${(gap * 100).toFixed(3)} %`,
      marginal === null || marginal === undefined ? "" : marginalText(marginal, of, view),
    ];
  });
  const right = (heading: string) => ({ heading, align: "right" as const });
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
    `${titleOf({ of, crew })} varied: ${describeObjective(view.rules)}`,
    plainTable([right(heading), right("worth"), right("gap"), right(`next ${next} adds`)], rows),
    picture.map((line) => `│ ${line}`.trimEnd()).join("\n"),
    curve.knee === null
      ? "No knee: each step adds about as much as the whole does on average."
      : `◆ the knee, ${amountOf(curve.knee)}: beyond it a further unit adds less than the whole range does on average.`,
    ...(of === "season"
      ? [
          "Crew-days of each kind are those of the calendar up to its last day, or those of crew_days where they are fewer; mobilisation and waiting are not taken off them.",
        ]
      : []),
  ].join("\n\n");
}

const titleOf = ({ of, crew }: Pick<Variation, "of" | "crew">): string =>
  of === "budget" ? "Budget" : of === "crews" ? `Crew-days of ${crew}` : "Last day of the season";

function marginalText(marginal: number, of: Variation["of"], view: SeasonView): string {
  const { lossAvoided, infiltrationRemoved } = view.rules.objective;
  // Worth is in cents and the budget in units of money.
  if (infiltrationRemoved === 0)
    return of === "budget"
      ? (marginal / 100).toFixed(2)
      : showQuantity(Math.round(marginal), "money", view.style);
  if (lossAvoided === 0) return `${marginal.toPrecision(3)} L/s`;
  return `${((marginal / (lossAvoided + infiltrationRemoved)) * 100).toPrecision(3)} %`;
}
