import { crewKinds } from "../columns/plan-columns.ts";
import { drawCurve } from "../pictures/curve.ts";
import { priceInCents } from "../program/unit-prices.ts";
import { showQuantity } from "../quantity/show-quantity.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { type Curve, readCurve } from "../season/selection/vary.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf } from "./load-program.ts";
import { plainTable } from "./plain-table.ts";
import { viewOf } from "./season-view.ts";
import { describeObjective, type SeasonView, showWorth } from "./season-words.ts";
import { solveInThread } from "./solve-in-thread.ts";
import { readVariation, type Variation } from "./vary-words.ts";

/** `wyeplan season FOLDER --vary budget 500000..3000000 by 250000`: what more or less of one thing would change. */
export async function varySeason(
  program: PlannedProgram,
  view: SeasonView,
  options: { readonly vary: readonly string[]; readonly json?: boolean; readonly gap: number },
  io: CommandIo,
): Promise<ExitCode> {
  const read = readVariation(options.vary, crewKinds);
  if (!read.ok) {
    io.err(`${read.why}\n`);
    return EXIT.notDone;
  }
  const { variation } = read;
  const seasons = variation.amounts.map((amount) => {
    const { rules } = view;
    const changed =
      variation.of === "budget"
        ? { ...rules, budget: centsOf(amount) }
        : { ...rules, crewDays: { ...rules.crewDays, [variation.crew ?? ""]: amount } };
    return viewOf(program, changed).season.problem;
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
  return exitCodeOf(program);
}

const centsOf = (amount: number): number => {
  const exact = priceInCents(Math.round(amount * 100) / 100);
  if (exact === null) throw new RangeError(`varySeason: ${amount} is no amount of money`);
  return exact;
};

function curveText(curve: Curve, { of, crew }: Variation, view: SeasonView, columns: number): string {
  const amountOf = (amount: number) =>
    of === "budget" ? showQuantity(centsOf(amount), "money", view.style) : `${amount} crew-days`;
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
    `${of === "budget" ? "Budget" : `Crew-days of ${crew}`} varied: ${describeObjective(view.rules)}`,
    plainTable(
      [
        right(of === "budget" ? "budget" : "crew-days"),
        right("worth"),
        right("gap"),
        right(`next ${of === "budget" ? "unit of money" : "crew-day"} adds`),
      ],
      rows,
    ),
    picture.map((line) => `│ ${line}`.trimEnd()).join("\n"),
    curve.knee === null
      ? "No knee: each step adds about as much as the whole does on average."
      : `◆ the knee, ${amountOf(curve.knee)}: beyond it a further unit adds less than the whole range does on average.`,
  ].join("\n\n");
}

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
