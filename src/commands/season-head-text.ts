import { showCount, showQuantity } from "../quantity/show-quantity.ts";
import type { HeldStanding } from "../season/tracking.ts";
import type { Found, ShownSeason } from "./season-shown.ts";
import { describeObjective, type SeasonView, showGap, showPackedDays, showWorth } from "./season-words.ts";

const money = (view: SeasonView, cents: number): string => showQuantity(cents, "money", view.style);

/** How far a season is proven, in words. */
export const describeProof = ({ ended, gap }: Found): string =>
  ended === "proven"
    ? `proven: no other season of the works that may be chosen is better by more than ${showGap(gap)}`
    : ended === "packed"
      ? `no other season that fits, of the works that may be chosen, is better by more than ${showGap(gap)}: the bound knows only part of what packing costs`
      : ended === "stopped"
        ? `STOPPED before it was proven: another season may be better by up to ${showGap(gap)}`
        : `NOT PROVEN to the gap asked for (search limit): another season may be better by up to ${showGap(gap)}`;

/** What was asked, what is gone already, and how far the season is proven. */
export function headText(view: SeasonView, { selection }: ShownSeason): string {
  const { rules } = view;
  return [
    `Season: ${describeObjective(rules)}`,
    `  budget ${money(view, rules.budget)}, of it ${money(view, rules.budget - view.season.moneyBefore)} kept back${view.pays === "city share" ? "; it counts the city's share of cost" : ""}`,
    ...heldText(view),
    `  bound ${showWorth(selection.bound, view)}; ${describeProof(selection)}`,
    ...unpackedText(view, selection),
  ].join("\n");
}

/** What days counted at their least would select, where it does not fit as packed. */
function unpackedText(view: SeasonView, { packing: { unpacked, rounds } }: Found): readonly string[] {
  const over = unpacked.excess.flatMap((days, c) =>
    days > 0 ? [`${showPackedDays(days)} of ${view.packed.crews[c]}`] : [],
  );
  return over.length === 0
    ? []
    : [
        `  with days counted at their least it would be ${showWorth(unpacked.worth, view)}, but packed it needs more crew-days than there are: ${over.join(", ")}; solved ${rounds} times for one that fits`,
      ];
}

/** Laterals under way whose preparation is over. */
export const visitedOf = (begun: SeasonView["season"]["begun"]): number =>
  begun.filter((each) => each.visited.some((minutes) => minutes !== null)).length;

/** What is done or refused, and is chosen about no more; and what was spent on work that is not finished. */
function heldText(view: SeasonView): readonly string[] {
  const { held, begun, moneyBefore, spent: gone, opening } = view.season;
  const as = (which: HeldStanding) => held.filter(({ standing }) => standing === which);
  const sumOf = (works: readonly { readonly spent: number }[]) =>
    works.reduce((sum, each) => sum + each.spent, 0);
  const [done, refused, heldBack] = [as("done"), as("refused"), as("held back")];
  const spent = sumOf(begun);
  const unentered = begun.filter((each) => each.spent === 0).length;
  const visited = visitedOf(begun);
  return [
    ...(done.length + refused.length === 0
      ? []
      : [
          `  held fixed: ${showCount(done.length)} lateral(s) done, ${showCount(refused.length)} refused; ${money(view, sumOf([...done, ...refused]))} spent on them`,
        ]),
    ...(sumOf(heldBack) === 0
      ? []
      : [
          `  held back: ${money(view, sumOf(heldBack))} was spent on such laterals, and is gone from the budget`,
        ]),
    ...(begun.length === 0
      ? []
      : [
          `  under way: ${showCount(begun.length)} lateral(s), ${money(view, spent)} spent on them: gone from the budget, and taken off what their work still costs${unentered === 0 ? "" : `; ${view.pays === "city share" ? "nothing that the budget counts" : "nothing"} is entered (installed_cost) for ${showCount(unentered)} of them`}`,
        ]),
    ...(view.pays === "whole cost" || gone === opening.spent
      ? []
      : [
          "  of what is entered as spent (installed_cost), which is taken to be the whole cost, the city's share by the lateral's plan counts; all of it where that is not divided",
        ]),
    ...(opening.spent === 0
      ? []
      : [
          `  opened: ${showCount(opening.districts)} district(s) where work has begun: ${money(view, opening.spent)} of mobilization is gone whatever is chosen there`,
        ]),
    ...(visited === 0
      ? []
      : [
          `  prepared: ${showCount(visited)} lateral(s) cleaned or measured: that visit counts as done, in crew_days too, and is not planned again`,
        ]),
    ...(gone > moneyBefore
      ? [`  overspent: ${money(view, gone - moneyBefore)} more is spent than the budget less its reserve`]
      : []),
  ];
}
