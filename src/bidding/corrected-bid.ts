import { extend } from "../quantity/money.ts";
import { showPercent, showStatedPercent } from "../quantity/percent.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { type Cents, cents } from "../quantity/si.ts";
import type { BiddingRules } from "../reference/bidding-rules.ts";
import {
  type Amount,
  addedBy,
  type Bid,
  centsOf,
  type IssuedLine,
  type LineAsRead,
  MISSING,
  type Part,
  partName,
  partsOf,
} from "./bid.ts";
import { mostMobilization } from "./mobilization.ts";
import { money } from "./money-words.ts";
import { type FormulaCheck, formulaSaid } from "./price-formulas.ts";

/** Something found in a bid: corrected where a rule says so, else only shown. */
export interface Finding {
  /** Index of the line; null when it is about a total, or about several lines. */
  readonly line: number | null;
  /** Of a finding about several: which. */
  readonly lines?: readonly number[];
  readonly part: Part;
  readonly what: string;
  /** What was done: the rule's clause, or why nothing was. */
  readonly done: string;
  readonly corrected: boolean;
  /** What it changes in the total of its part. */
  readonly change: Cents;
  /** Of a price that is a formula: whether it gives what the file shows. */
  readonly formula?: FormulaCheck;
}

/** Whether a finding is about the total of its part. */
export const isOfTotal = ({ line, lines }: Finding): boolean => line === null && lines === undefined;

export interface CorrectedLine {
  /** Null where there is none, and none can be worked out by a stated rule. */
  readonly price: Cents | null;
  readonly extension: Cents | null;
}

export interface CorrectedBid {
  readonly bid: Bid;
  readonly lines: readonly CorrectedLine[];
  readonly findings: readonly Finding[];
  /** As the totals of the book read; null where there is none, or none that can be read. */
  readonly asRead: ReadonlyMap<Part, Cents | null>;
  /** Lines whose extension as read is no amount: a total over the rest looks like a bid and is none. */
  readonly withoutAmount: ReadonlyMap<Part, number>;
  /** Null where a line has no amount: a sum of the rest would look like a bid. */
  readonly corrected: ReadonlyMap<Part, Cents | null>;
}

const NO_RULE = "The instructions state no rule for it: shown, not corrected.";
const NOTHING = cents(0);

/**
 * A bid with the instructions to bidders applied. Each correction is one finding with its change, and a total as
 * corrected is the total as read plus the changes. A rule that is not stated corrects nothing.
 */
export function correctBid(bid: Bid, issued: readonly IssuedLine[], rules: BiddingRules): CorrectedBid {
  const findings: Finding[] = [];
  const lines = issued.map((line, i) => correctLine(line, i, bid.lines[i]!, rules, findings));
  sayWithoutWords(bid, issued, rules, findings);
  limitMobilization(issued, lines, rules, findings);
  const parts = partsOf(issued);
  const asRead = new Map<Part, Cents | null>();
  const withoutAmount = new Map<Part, number>();
  const corrected = new Map<Part, Cents | null>();
  for (const part of parts) {
    const own = issued.flatMap((line, i) => (line.part === part ? [i] : []));
    const sum = sumAsRead(bid, own);
    const total = bid.totals.get(part) ?? MISSING;
    const figures = centsOf(total);
    const stated = statedTotal(bid, part, figures, rules, findings);
    const settled = checkSum(stated, total, sum, part, rules, findings);
    // Where no total is written, the sum of the extensions, if a rule lets it stand.
    const read = figures ?? stated ?? (rules.columnSum === null ? null : sum);
    const changes = findings.reduce((sum, found) => (found.part === part ? sum + found.change : sum), 0);
    const complete = own.every((i) => lines[i]!.extension !== null);
    // A total that cannot be read is none, even where a rule lets the sum stand for it in the comparison.
    asRead.set(part, total.kind === "unreadable" ? null : read);
    withoutAmount.set(part, own.filter((i) => bid.lines[i]!.extension.kind !== "amount").length);
    corrected.set(part, complete && settled && read !== null ? cents(read + changes) : null);
  }
  return { bid, lines, findings, asRead, withoutAmount, corrected };
}

function correctLine(
  issued: IssuedLine,
  line: number,
  read: LineAsRead,
  rules: BiddingRules,
  findings: Finding[],
): CorrectedLine {
  const { part } = issued;
  const find = (what: string, done: string, corrected: boolean, change: Cents) =>
    void findings.push({ line, part, what, done, corrected, change });
  const flag = (what: string, done = NO_RULE) => find(what, done, false, NOTHING);

  const said = read.formula === null ? null : formulaSaid(read.formula, read.price, issued.hundredths);
  if (said !== null)
    findings.push({
      line,
      part,
      what: said.what,
      done: said.done,
      corrected: false,
      change: NOTHING,
      formula: said.check,
    });
  if (read.price.kind === "unreadable")
    flag(
      `The unit price ${read.formula === null ? "" : `is the formula ${read.formula.text} and `}reads ${JSON.stringify(read.price.text)}, which is ${notAnAmount(read.price.text)}`,
      "Taken as missing: what it means is for the owner to settle.",
    );
  if (read.extension.kind === "unreadable")
    flag(
      `The extension reads ${JSON.stringify(read.extension.text)}, ${read.price.kind === "unreadable" && read.extension.gives !== undefined ? "worked out from that" : "which is no amount"}`,
      `Taken as missing${addedBy(read.extension) === 0 ? "" : "; the total as read has it in it"}.`,
    );
  const extension = centsOf(read.extension);
  let price = priceOfWords(read, rules, find, flag);

  if (price === null) {
    if (extension === null) {
      flag("Neither a unit price nor an extension", "The line has no amount, and the bid no total.");
      return { price: null, extension: null };
    }
    if (rules.missingPrice === null || issued.hundredths <= 0) {
      flag(`No unit price; the extension is ${money(extension)}`);
      return { price: null, extension };
    }
    price = overQuantity(extension, issued.hundredths);
    const product = extend(issued.hundredths, price);
    find(
      `No unit price: ${money(extension)} ÷ ${issued.hundredths / 100} = ${money(price)}, rounded down to the cent`,
      rules.missingPrice.clause,
      true,
      cents(product - extension),
    );
    return { price, extension: product };
  }

  const product = extend(issued.hundredths, price);
  if (extension === product) return { price, extension };
  const computed = `${issued.hundredths / 100} × ${money(price)} = ${money(product)}`;
  const what = `${computed}, the extension reads ${extension === null ? "nothing" : money(extension)}`;
  if (rules.governs === null || (rules.governs.rule === "extension" && extension === null)) {
    flag(what);
    return { price, extension };
  }
  if (rules.governs.rule === "extension" && extension !== null) {
    find(`${what}; the extension governs, the unit price is not used`, rules.governs.clause, true, NOTHING);
    return { price: null, extension };
  }
  find(what, rules.governs.clause, true, cents(product - addedBy(read.extension)));
  return { price, extension: product };
}

const notAnAmount = (text: string): string =>
  text.startsWith("-")
    ? "below nothing and no price"
    : /^\d+\.\d{3,}$/.test(text)
      ? "no amount: it has more than two decimals"
      : "no amount";

/** The unit price: words against figures, where both are there. */
function priceOfWords(
  { price, words }: LineAsRead,
  { words: rule }: BiddingRules,
  find: (what: string, done: string, corrected: boolean, change: Cents) => void,
  flag: (what: string, done?: string) => void,
): Cents | null {
  const figures = centsOf(price);
  if (words === null) return figures;
  if (words.kind === "unreadable")
    flag(
      `The unit price in words reads ${JSON.stringify(words.text)}, which no program should take for an amount`,
      "The figures are taken: read the words, and settle by hand which amount they say.",
    );
  const inWords = centsOf(words);
  if (inWords === null || figures === inWords) return figures;
  const what = `The unit price is ${money(inWords)} in words, ${figures === null ? "missing" : money(figures)} in figures`;
  if (rule === null) {
    flag(what);
    return figures;
  }
  find(what, rule.clause, true, NOTHING);
  return rule.rule === "words" ? inWords : figures;
}

/** Prices that the instructions ask for in words and that are in figures only: one finding a part, however many they are. */
function sayWithoutWords(
  bid: Bid,
  issued: readonly IssuedLine[],
  { words: rule }: BiddingRules,
  findings: Finding[],
): void {
  if (rule === null) return;
  for (const part of partsOf(issued)) {
    const lines = issued.flatMap((line, i) => {
      const { price, words } = bid.lines[i]!;
      return line.part === part && words?.kind === "missing" && centsOf(price) !== null ? [i] : [];
    });
    const [only] = lines;
    if (only === undefined) continue;
    const items = lines.map((line) => issued[line]!.item);
    findings.push({
      ...(lines.length === 1 ? { line: only } : { line: null, lines }),
      part,
      what:
        lines.length === 1
          ? "The unit price is not written in words"
          : `${showCount(lines.length)} unit prices of the ${partName(part)} are not written in words: ${listed(items)}`,
      done: "The figures are taken.",
      corrected: false,
      change: NOTHING,
    });
  }
}

const MOST_NAMED = 6;

const listed = (items: readonly string[]): string =>
  `item ${items.slice(0, MOST_NAMED).join(", ")}${items.length > MOST_NAMED ? " …" : ""}`;

/** Total ÷ quantity, rounded down to the next lower cent (as San Bernardino County CA proposals put it). */
export const overQuantity = (total: Cents, hundredths: number): Cents =>
  cents(Number((BigInt(total) * 100n) / BigInt(hundredths)));

/** What the extensions of a part come to as read, as the book adds them up; one that is missing adds nothing. */
const sumAsRead = (bid: Bid, own: readonly number[]): Cents =>
  cents(own.reduce((sum, i) => sum + addedBy(bid.lines[i]!.extension), 0));

/** The total that the bidder wrote: words against figures, where both are asked for. */
function statedTotal(
  { totalWords }: Bid,
  part: Part,
  figures: Cents | null,
  { totalInWords: asked }: BiddingRules,
  findings: Finding[],
): Cents | null {
  const words = totalWords.get(part);
  if (words === undefined) return figures;
  const find = (what: string, done: string, corrected = false, change: Cents = NOTHING) =>
    void findings.push({ line: null, part, what, done, corrected, change });
  if (words.kind === "unreadable")
    find(
      `The total of the ${partName(part)} in words reads ${JSON.stringify(words.text)}, which no program should take for an amount`,
      "The figures are taken: read the words, and settle by hand which amount they say.",
    );
  else if (words.kind === "missing" && asked !== null)
    find(`The total of the ${partName(part)} is not written in words`, "The figures are taken.");
  const inWords = centsOf(words);
  if (inWords === null || inWords === figures) return figures;
  const what = `The total of the ${partName(part)} is ${money(inWords)} in words, ${figures === null ? "missing" : money(figures)} in figures`;
  if (asked === null || asked.rule === null) {
    find(what, NO_RULE);
    return figures;
  }
  const governs = asked.rule === "words";
  find(what, asked.clause, true, governs && figures !== null ? cents(inWords - figures) : NOTHING);
  return governs ? inWords : figures;
}

/**
 * Compares the total as stated with the sum of the extensions as read. Where they differ and no rule says which holds,
 * a correction of an extension cannot be carried into the total.
 *
 * @returns whether the total can be worked out
 */
function checkSum(
  written: Cents | null,
  figures: Amount,
  sum: Cents,
  part: Part,
  rules: BiddingRules,
  findings: Finding[],
): boolean {
  if (written === sum) return true;
  const rule = rules.columnSum;
  const carried = findings.some((found) => found.line !== null && found.part === part && found.change !== 0);
  findings.push({
    line: null,
    part,
    what: `The extensions of the ${partName(part)} as read add up to ${money(sum)}, the total reads ${written !== null ? money(written) : figures.kind === "unreadable" ? `${JSON.stringify(figures.text)}, which is no amount` : "nothing"}`,
    done:
      rule === null
        ? carried
          ? `${NO_RULE} With the corrections above the total cannot be worked out.`
          : NO_RULE
        : centsOf(figures) === sum
          ? `${rule.clause} It takes back what the total in words changed: which rule comes first is for the owner to settle.`
          : rule.clause,
    corrected: rule !== null,
    change: rule === null || written === null ? NOTHING : cents(sum - written),
  });
  return rule !== null || !carried;
}

/** The cap on mobilization, over the base bid as corrected so far. */
function limitMobilization(
  issued: readonly IssuedLine[],
  lines: CorrectedLine[],
  { mobilizationCap: cap }: BiddingRules,
  findings: Finding[],
): void {
  const at = issued.findIndex(({ role, part }) => role === "mobilization" && part === "base");
  const bid = lines[at]?.extension ?? null;
  if (cap === null || bid === null) return;
  let others = 0;
  for (const [i, line] of issued.entries()) {
    if (i === at || line.part !== "base" || line.role === "allowance") continue;
    const extension = lines[i]!.extension;
    if (extension === null) return;
    others += extension;
  }
  const most = mostMobilization(cents(others), cap);
  if (bid <= most) return;
  const base = cap.of === "other items" ? others : others + bid;
  const share = base === 0 ? "" : `, ${showPercent(bid / base, 1)} of ${money(cents(base))}`;
  const reduce = cap.remedy === "reduce";
  findings.push({
    line: at,
    part: "base",
    what:
      `Mobilization ${money(bid)}${share} (${cap.of === "total" ? "the total" : "the other items"}); ` +
      `the cap of ${showStatedPercent(cap.share)} comes to ${money(most)}` +
      (cap.of === "total" ? `, of the ${money(cents(others + most))} that the total is with it` : ""),
    done: reduce ? cap.clause : `${cap.clause} A limit on payment: the bid is not changed.`,
    corrected: reduce,
    change: reduce ? cents(most - bid) : NOTHING,
  });
  if (reduce) lines[at] = { price: issued[at]!.hundredths === 100 ? most : null, extension: most };
}
