/** Names of cells of the bid book by which a returned one is read, whatever else is around them. They are all in view. */

/** Columns of the bid schedule, one name each; an alternate's have `_alternate_1` and so on behind them. */
export const scheduleNames = [
  "bid_items",
  "bid_wordings",
  "bid_units",
  "bid_quantities",
  "bid_prices",
  "bid_extensions",
  "bid_total",
  "bid_unpriced",
] as const;
export type ScheduleName = (typeof scheduleNames)[number];

/** The total in words, by formula; a book of before has none. */
export const TOTAL_IN_WORDS = "bid_total_words";
/** Unit prices in words, where the instructions say which governs. */
export const WORDS = "bid_words";
/** The totals that a bidder writes in words, part by part, on the bid form, where the instructions ask for them. */
export const TOTALS_WRITTEN = "bidder_totals_in_words";
/** What mobilization may come to and by how much it is over, where the instructions cap it. */
export const capNames = { most: "bid_mobilization_most", over: "bid_mobilization_over" } as const;
/** Totals of the base bid with none, one, two … of the alternates, on the bid form; each with its words beside it. */
export const awardNames = { totals: "bid_award_totals", words: "bid_award_words" } as const;

/** Fields that a bidder fills in, with what is asked for. */
export const formFields = {
  bidder: { name: "bidder_name", heading: "Bidder", asks: "Full legal name of the bidder." },
  signedBy: {
    name: "bidder_signed_by",
    heading: "Signed by",
    asks: "Name and title of the person who signs.",
  },
  signature: {
    name: "bidder_signature",
    heading: "Signature",
    asks: "As the instructions to bidders accept it; a bid without one may not count.",
  },
  date: { name: "bidder_date", heading: "Date", asks: "Day of signing." },
  security: {
    name: "bidder_security",
    heading: "Bid security",
    asks: "Kind, amount and number of the bond or check that comes with the bid.",
  },
  addenda: {
    name: "bidder_addenda",
    heading: "Addenda acknowledged",
    asks: "Number of each addendum received, such as 1, 2; none when none were issued.",
  },
} as const satisfies Record<
  string,
  { readonly name: string; readonly heading: string; readonly asks: string }
>;
export type FormField = keyof typeof formFields;

/** What was issued, in cells of the bid form. */
export const issueNames = {
  number: "bid_issue",
  content: "bid_content",
  addenda: "bid_addenda_issued",
} as const;
