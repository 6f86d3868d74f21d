import { showCount } from "../../quantity/show-quantity.ts";
import type { BudgetPays } from "../../reference/season-days.ts";
import type { UncertainWork } from "./uncertain-work.ts";

/** What moves together in a world, and what does not: the correlation that the spreads rest on. */
export const correlationInWords: readonly string[] = [
  "Together in a season, for all laterals: crew productivity, the bias of lengths found, the market, each class of prices, the chance of surprises on opening, the weather. By itself for each lateral: its own time, its own length, whether it turns out otherwise.",
  "Shared draws are independent of each other, and so are the laterals' own: what is only their own averages out over many laterals, what is shared does not.",
  "A lateral that turns out otherwise takes the other offer's cost and time in place of its own. A length found moves items paid by length or area; its effect on time is within the lateral's own time.",
];

/** Whose cost is drawn, where it is not the whole. */
export const shareInWords: Readonly<Record<BudgetPays, readonly string[]>> = {
  "whole cost": [],
  "city share": [
    "Costs are the city's share, as the season's budget counts them: of each lateral's drawn cost the same share as of its planned one, and all of it where that is not divided.",
  ],
};

/** What the draws leave out, each in a sentence. */
export function leftInWords(left: UncertainWork["left"]): readonly string[] {
  const sentences: readonly (readonly [number, string])[] = [
    [left.withoutPrice, "lateral(s) without a price are in no cost."],
    [left.cannotChange, "lateral(s) stay as planned on opening: no priced offer of what they might need."],
    [left.done, "lateral(s) are done and certain."],
    [left.begun, "lateral(s) are under way: what is spent on them is certain, the rest is drawn."],
    [left.refused, "lateral(s) are refused and left out."],
    [left.heldBack, "lateral(s) are held back and left out: a cross-bore was found that is not made safe."],
  ];
  return sentences.filter(([count]) => count > 0).map(([count, words]) => `${showCount(count)} ${words}`);
}
