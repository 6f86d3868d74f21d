import * as z from "zod";
import { fraction } from "../quantity/si.ts";
import { houseBidChecks } from "../reference/bid-checks.ts";
import type { BidCheckBand, BiddingRules, OwnersConditions } from "../reference/bidding-rules.ts";
import { describeSource } from "../reference/source.ts";
import type { Settings } from "./settings-schema.ts";
import { number, part, partOf, text, words } from "./written-values.ts";

/** What `bidding` of program.json says: the program's instructions to bidders, each rule with its clause. */

const clause = text("the clause as the instructions to bidders write it, or where it stands");

const rule = <const Words extends readonly string[]>(list: Words) =>
  z.strictObject({ rule: words(list), clause }).optional();

const SHARE = 'a share above nothing and below one, such as 0.1 or "10 %"';
const share = part.refine((written) => partOf(written) > 0 && partOf(written) < 1, SHARE);

export const biddingSchema = z.strictObject({
  governs: rule(["unit price", "extension"]),
  missing_price: rule(["total over quantity"]),
  words: rule(["words", "figures"]),
  /** Asks bidders to write each total in words themselves; without a rule a difference is shown and corrects nothing. */
  total_in_words: z.strictObject({ rule: words(["words", "figures"]).optional(), clause }).optional(),
  column_sum: rule(["correct sum"]),
  ties: rule(["drawn by lot", "owner decides"]),
  alternates: rule(["in stated order"]),
  mobilization_cap: z
    .strictObject({
      share,
      of: words(["other items", "total"]),
      remedy: words(["reduce", "payment limit"]),
      clause,
    })
    .optional(),
  security: z.strictObject({ share, clause }).optional(),
  /** What bidders are told of when and how the work is done. */
  conditions: z
    .strictObject({
      bids_due: clause.optional(),
      questions: clause.optional(),
      contract_time: clause.optional(),
      working_hours: clause.optional(),
      flow_control: z
        .strictObject({ paid_by: words(["unit prices", "owner", "allowance"]), clause })
        .optional(),
      notice: clause.optional(),
      water: clause.optional(),
      disposal: clause.optional(),
      access: clause.optional(),
    })
    .optional(),
  /** Which prices and quantities are worth a second look. */
  checks: z
    .strictObject({
      source: text("who set the band"),
      low: number.refine((low) => low >= 0 && low <= 1, "a ratio from 0 to 1").optional(),
      high: number.refine((high) => high >= 1, "a ratio of 1 or more").optional(),
      quantity: share.optional(),
    })
    .optional(),
});

/** A rule the program does not state is null: nothing is corrected by it. */
export function biddingRules({ bidding }: Settings): BiddingRules {
  const cap = bidding?.mobilization_cap;
  const security = bidding?.security;
  const total = bidding?.total_in_words;
  return {
    governs: bidding?.governs ?? null,
    missingPrice: bidding?.missing_price ?? null,
    words: bidding?.words ?? null,
    totalInWords: total === undefined ? null : { rule: total.rule ?? null, clause: total.clause },
    columnSum: bidding?.column_sum ?? null,
    ties: bidding?.ties ?? null,
    alternates: bidding?.alternates ?? null,
    mobilizationCap: cap === undefined ? null : { ...cap, share: fraction(partOf(cap.share)) },
    security: security === undefined ? null : { ...security, share: fraction(partOf(security.share)) },
  };
}

export const ownersConditions = ({ bidding }: Settings): OwnersConditions => bidding?.conditions ?? {};

export function bidCheckBand({ bidding }: Settings): BidCheckBand {
  const changes = bidding?.checks;
  const { low, high, quantity, source } = houseBidChecks;
  const house = describeSource(source);
  return {
    low: changes?.low ?? low,
    high: changes?.high ?? high,
    quantity: fraction(changes?.quantity === undefined ? quantity : partOf(changes.quantity)),
    source:
      changes === undefined ? house : `program.json (${changes.source}); what it does not give: ${house}`,
  };
}
