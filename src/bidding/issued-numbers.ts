import type { IssuedRecordLine } from "./issue-changes.ts";

/**
 * Item numbers that bidders have been given, over all issues. One that stood for a line stays that line's: a line that is new
 * gets the next number of its item that nothing had, and one that went keeps its own unused. Numbers stay plain numbers (6.05,
 * not 6.02A): the formulas of the books match them as such.
 */
export interface IssuedNumbers {
  /** As printed, by what they stand for: see {@link nameOf}. */
  readonly byName: ReadonlyMap<string, string>;
  /** All that ever stood in an issue. */
  readonly given: ReadonlySet<string>;
  /** Sheet by sheet of the schedule, the last issue that each number stood in. */
  readonly lastIssue: ReadonlyMap<string, ReadonlyMap<string, number>>;
}

/** Before the first issue. */
export const NOTHING_ISSUED: IssuedNumbers = { byName: new Map(), given: new Set(), lastIssue: new Map() };

/** What a number stands for in every part of the bid: the plan's name of the line; of an allowance its wording, which alone tells it from others. */
function nameOf({ key, sheet, wording, amount }: IssuedRecordLine): string {
  if (amount !== null) return wording;
  const part = `, ${sheet.toLowerCase()}`;
  return key.endsWith(part) ? key.slice(0, -part.length) : key;
}

/**
 * The numbers of the issues so far. Issues of before numbers stayed may give one number to two lines after another: it stands
 * for the later one, and the other gets a new one when it comes back.
 *
 * @param issues the first first
 */
export function numbersIssued(
  issues: readonly { readonly lines: readonly IssuedRecordLine[] }[],
): IssuedNumbers {
  const byName = new Map<string, string>();
  const names = new Map<string, string>();
  const lastIssue = new Map<string, Map<string, number>>();
  for (const [i, { lines }] of issues.entries())
    for (const line of lines) {
      const { item, sheet } = line;
      const [name, other] = [nameOf(line), names.get(item)];
      if (other !== undefined && other !== name && byName.get(other) === item) byName.delete(other);
      byName.set(name, item);
      names.set(item, name);
      lastIssue.set(sheet, (lastIssue.get(sheet) ?? new Map()).set(item, i + 1));
    }
  return { byName, given: new Set(names.keys()), lastIssue };
}

/** Two decimals of an item number tell so many lines of an item apart, those that went among them. */
const MOST_OF_AN_ITEM = 99;

/**
 * The numbers of an item's lines, 6.01 and so on: those they were issued under, and for the others the next free ones.
 *
 * @param names what the numbers stand for, in the order in which new ones are given
 */
export function numbersOf(
  item: number,
  names: readonly string[],
  { byName, given }: IssuedNumbers,
): readonly number[] {
  const from = item * 100;
  let last = 0;
  for (const number of given) {
    const order = Math.round(Number(number) * 100) - from;
    if (order > last && order <= MOST_OF_AN_ITEM) last = order;
  }
  return names.map((name) => {
    const own = byName.get(name);
    if (own !== undefined) return Number(own);
    if (++last > MOST_OF_AN_ITEM)
      throw new RangeError(`numbersOf: item ${item} has more than ${MOST_OF_AN_ITEM} lines, over all issues`);
    return (from + last) / 100;
  });
}
