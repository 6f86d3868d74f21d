import { showStatedPercent } from "../quantity/percent.ts";
import type { Cents } from "../quantity/si.ts";
import type { BiddingRules } from "../reference/bidding-rules.ts";
import type { IssuedLine } from "./bid.ts";
import type { CorrectedBid } from "./corrected-bid.ts";
import { money } from "./money-words.ts";
import { formulasIn } from "./price-formulas.ts";

/** One question a bid must answer before it is compared. What a "no" means is for the owner and counsel. */
export interface ResponsivenessCheck {
  readonly asks: string;
  readonly answer: "yes" | "no" | "to be read";
  readonly found: string;
}

/** @param addenda how many addenda were issued */
export function checkResponsiveness(
  { bid, lines, corrected }: CorrectedBid,
  addenda: number,
  rules: Pick<BiddingRules, "security">,
  issued: readonly Pick<IssuedLine, "item">[],
): readonly ResponsivenessCheck[] {
  const { form } = bid;
  const formulas = formulasIn(bid);
  return [
    filled("Bidder named", form.bidder),
    filled(
      "Signed, and by whom",
      form.signature === null
        ? null
        : [form.signature, form.signedBy].filter((part) => part !== null).join(", "),
    ),
    acknowledged(form.addenda, addenda),
    security(form.security, corrected.get("base") ?? null, rules),
    linesPriced({ bid, lines }, issued),
    ...(formulas === null
      ? []
      : [{ asks: "Unit prices typed as numbers", answer: "to be read", found: formulas } as const]),
    {
      asks: "Nothing added to the book",
      answer: bid.additions.length === 0 ? "yes" : "to be read",
      found: bid.additions.length === 0 ? "nothing" : bid.additions.join("; "),
    },
  ];
}

/** A unit price that the bidder did not give is said even where a rule puts another in its place: what it means is for the owner. */
function linesPriced(
  { bid, lines }: Pick<CorrectedBid, "bid" | "lines">,
  issued: readonly Pick<IssuedLine, "item">[],
): ResponsivenessCheck {
  const unpriced = lines.filter(({ extension }) => extension === null).length;
  const notGiven = bid.lines.flatMap(({ price: read }, i) => {
    if (read.kind === "amount") return [];
    const { price, extension } = lines[i]!;
    const instead =
      price !== null
        ? `${money(price)} put in its place`
        : extension === null
          ? "no amount"
          : `nothing put in its place, the extension ${money(extension)} taken`;
    const found = read.kind === "missing" ? "left blank" : `reads ${JSON.stringify(read.text)}`;
    return [`${issued[i]!.item}: unit price ${found}, ${instead}`];
  });
  return {
    asks: "Every line priced",
    answer: unpriced > 0 ? "no" : notGiven.length > 0 ? "to be read" : "yes",
    found: [...(unpriced === 0 ? [] : [`${unpriced} without an amount`]), ...notGiven].join("; ") || "all",
  };
}

const filled = (asks: string, value: string | null): ResponsivenessCheck => ({
  asks,
  answer: value === null ? "no" : "yes",
  found: value ?? "empty",
});

/** A day in figures, as bidders write it beside a number: it names no addendum. */
const WRITTEN_DAY = /\b(?:\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2}(?:\d{2})?)\b/g;

/** `1-3`, `1 to 3`, `1 through 3`, and the word behind it. */
const FROM_TO = /\b(\d{1,3})\s*(?:[-–]|to|through)\s*(\d{1,3})(?!\d)[\s(-]*(\p{L}*)/giu;

/** Words behind a range that leave it one. `1 - 3 pages` is addendum 1, of three pages. */
const STILL_A_RANGE: ReadonlySet<string> = new Set(["", "and", "of"]);

/** The numbers in a text: each that stands in it and those of a range among what was issued; apart, what another range may mean. */
function numbersIn(text: string, issued: number) {
  const [named, perhaps] = [new Set((text.match(/\d+/g) ?? []).map(Number)), new Set<number>()];
  for (const [, from, to, word = ""] of text.matchAll(FROM_TO)) {
    const isRange = Number(to) <= issued && STILL_A_RANGE.has(word.toLowerCase());
    for (let each = Number(from); each <= Number(to); each++) (isRange ? named : perhaps).add(each);
  }
  return { named, perhaps };
}

/** Every addendum by its number, `1, 2` or `1-2`, in any wording around it. A number beyond them may be a slip or other documents: people read it. */
function acknowledged(written: string | null, issued: number): ResponsivenessCheck {
  const { named, perhaps } = numbersIn(written?.replace(WRITTEN_DAY, " ") ?? "", issued);
  const unnamed = Array.from({ length: issued }, (_, i) => i + 1).filter((number) => !named.has(number));
  const missing = unnamed.filter((number) => !perhaps.has(number));
  const doubtful = unnamed.filter((number) => perhaps.has(number));
  const unknown = [...named].filter((number) => number < 1 || number > issued);
  const said = [
    ...(missing.length === 0 ? [] : [`not named: ${missing.join(", ")}`]),
    ...(doubtful.length === 0
      ? []
      : [`${JSON.stringify(written)} may or may not name ${doubtful.join(", ")}`]),
    ...(unknown.length === 0
      ? []
      : [`${JSON.stringify(written)} names ${unknown.join(", ")}, which ${issuedSaid(issued)}`]),
  ];
  return {
    asks: "Addenda acknowledged",
    answer: missing.length > 0 ? "no" : doubtful.length + unknown.length > 0 ? "to be read" : "yes",
    found: said.length > 0 ? said.join("; ") : issued === 0 ? "none issued" : (written ?? ""),
  };
}

const issuedSaid = (issued: number): string =>
  issued === 0 ? "was not issued: there is no addendum" : `was not issued: the last addendum is ${issued}`;

/** What is written about a bond or a check is for people to read; the amount asked for is shown beside it. */
function security(
  written: string | null,
  base: Cents | null,
  { security: asked }: Pick<BiddingRules, "security">,
): ResponsivenessCheck {
  const amount =
    asked === null || base === null ? "" : `; ${showStatedPercent(asked.share)} of ${money(base)} asked for`;
  if (written === null) return { asks: "Bid security", answer: "no", found: `empty${amount}` };
  return { asks: "Bid security", answer: "to be read", found: `${written}${amount}` };
}
