import * as z from "zod";
import { treatmentKinds } from "../columns/plan-columns.ts";
import type { AlternateScope, BidLayout } from "../reference/bid-layout.ts";
import type { Settings } from "./settings-schema.ts";
import { priceInCents } from "./unit-prices.ts";
import { list, number, text, words } from "./written-values.ts";

/** What `bid` of program.json says: the additive alternates in their order, and the allowances. */

const MOST_ALTERNATES = 9;
const MOST_ALLOWANCES = 90;
const AMOUNT = "an amount above nothing, with at most two decimals";
const ONE_SCOPE =
  'one of "districts", "treatments", "laterals", "season", "beyond_season" and "filter", and only one: what the alternate takes';

const some = <Item extends z.ZodType>(item: Item, expected: string) =>
  list(item).refine((names) => names.length > 0 && new Set(names).size === names.length, expected);

const alternate = z
  .strictObject({
    name: text("the alternate's name, as bidders read it"),
    districts: some(text("a district of the plan"), "one or more districts, each once").optional(),
    treatments: some(words(treatmentKinds), "one or more treatments, each once").optional(),
    laterals: some(text("the id of a lateral"), "one or more ids of laterals, each once").optional(),
    season: text("the name of a saved season").optional(),
    beyond_season: text("the name of a saved season").optional(),
    filter: text("the name of a filter of the recipe").optional(),
  })
  .refine((written) => scopesOf(written).length === 1, ONE_SCOPE);

export const bidLayoutSchema = z.strictObject({
  alternates: list(alternate)
    .refine((all) => all.length <= MOST_ALTERNATES, `no more than ${MOST_ALTERNATES} alternates`)
    .refine(
      (all) => new Set(all.map(({ name }) => name)).size === all.length,
      "alternates of different names",
    )
    .optional(),
  allowances: list(
    z.strictObject({
      wording: text("the wording of the allowance"),
      amount: number.refine((amount) => amount > 0 && priceInCents(amount) !== null, AMOUNT),
      payment: text("what the allowance is for, and how it is paid"),
    }),
  )
    .refine((all) => all.length <= MOST_ALLOWANCES, `no more than ${MOST_ALLOWANCES} allowances`)
    .refine(
      (all) => new Set(all.map(({ wording }) => wording)).size === all.length,
      "allowances of different wordings",
    )
    .optional(),
});

type WrittenAlternate = {
  readonly districts?: readonly string[] | undefined;
  readonly treatments?: (AlternateScope & { readonly kind: "treatments" })["names"] | undefined;
  readonly laterals?: readonly string[] | undefined;
  readonly season?: string | undefined;
  readonly beyond_season?: string | undefined;
  readonly filter?: string | undefined;
};

function scopesOf({ districts, treatments, laterals, ...one }: WrittenAlternate): readonly AlternateScope[] {
  return [
    ...(districts === undefined ? [] : [{ kind: "districts", names: districts } as const]),
    ...(treatments === undefined ? [] : [{ kind: "treatments", names: treatments } as const]),
    ...(laterals === undefined ? [] : [{ kind: "laterals", names: laterals } as const]),
    ...(one.season === undefined ? [] : [{ kind: "season", names: [one.season] } as const]),
    ...(one.beyond_season === undefined
      ? []
      : [{ kind: "beyond season", names: [one.beyond_season] } as const]),
    ...(one.filter === undefined ? [] : [{ kind: "filter", names: [one.filter] } as const]),
  ];
}

/** A program that says nothing asks for a base bid alone. */
export const bidLayout = ({ bid }: Settings): BidLayout => ({
  alternates: (bid?.alternates ?? []).map((written) => ({
    name: written.name,
    takes: scopesOf(written)[0]!,
  })),
  allowances: (bid?.allowances ?? []).map((written) => ({
    ...written,
    amount: priceInCents(written.amount)!,
  })),
});
