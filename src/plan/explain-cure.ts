import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { ChosenLiner } from "../reference/basis.ts";
import { cureSources } from "../reference/cure-methods.ts";
import { describeSource } from "../reference/source.ts";
import type { CurePlan } from "./cure.ts";
import type { CureFit } from "./cure-fit.ts";
import { type ExplainedLine, line } from "./explained-line.ts";

/** How the liner is hardened: each part with its temperatures and least time, and what the host bears. */
export function explainCure(
  plan: CurePlan,
  fit: CureFit | null,
  { cure, resin }: ChosenLiner,
  style: NumberStyle,
): ExplainedLine[] {
  const time = (minutes: number) => showQuantity(minutes, "duration", style);
  const heat = (celsius: number) => showQuantity(celsius, "temperature", style);
  return [
    line("method", cure.label, null, `of ${resin.label}`),
    ...plan.parts.map((part) => {
      const change =
        part.from === null || part.to === null
          ? null
          : part.from === part.to
            ? `at ${heat(part.to)}`
            : `${heat(part.from)} to ${heat(part.to)}`;
      return line(part.what, time(part.time), cure.kind === "stated" ? "decided" : "assumed", change);
    }),
    line(
      "until hard, then cool",
      `${time(plan.curing)} + ${time(plan.coolDown)} = ${time(plan.total)}`,
      null,
      "t = |ΔT|/rate where a rate limits, else the stated time; summed",
    ),
    ...(plan.compared === null
      ? []
      : [
          line(
            "beside it",
            plan.compared.label,
            null,
            `the schedule is ${plan.compared.ratio.toFixed(2)} of it; it is not used`,
          ),
        ]),
    ...(fit === null ? [] : [heatLine(fit, heat)]),
    ...cureSources(cure, resin.key).map((source) => line("source", describeSource(source))),
    line(
      "governs",
      "the temperature measured between liner and host, and the resin supplier's schedule",
      null,
      "these minutes plan a crew's time only",
    ),
    ...(cure.key === "ambient"
      ? []
      : [
          line(
            "before heat or pressure",
            "isolate the building's plumbing from the lateral and fill trap seals",
          ),
        ]),
  ];
}

function heatLine({ heat }: CureFit, shown: (celsius: number) => string): ExplainedLine {
  const label = "heat on the host";
  switch (heat.kind) {
    case "bears":
      return line(label, `${shown(heat.hottest)}, the host bears ${shown(heat.limit)}`, "assumed");
    case "too hot":
      return line(label, `${shown(heat.hottest)} is over the ${shown(heat.limit)} the host bears`, "assumed");
    case "no limit":
      return line(label, "no limit of this material at cure temperatures", "assumed");
    case "not checked":
      return line(
        label,
        heat.because === "host material unknown"
          ? "not checked: host material not known, look before heating"
          : "not checked: no temperature of this cure is tabulated, ask the supplier what the host feels",
      );
    default:
      return heat satisfies never;
  }
}
