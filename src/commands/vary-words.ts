import { dayFromIso } from "../quantity/calendar.ts";

/** What `--vary` asks for: amounts of the budget in the program's currency, crew-days of one crew type, or the season's last day. */
export interface Variation {
  readonly of: "budget" | "crews" | "season";
  /** The crew type, for crews. */
  readonly crew: string | null;
  /** Of a season days, counted from 1970-01-01. */
  readonly amounts: readonly number[];
}

const MOST_POINTS = 60;
const EXPECTED =
  "write: budget 500000..3000000 by 250000, crews lining 20..80 by 10, or season 2026-08-31..2026-11-30 by 2 weeks";

/** Reads the words after `--vary`, or says what is wrong with them. */
export function readVariation(
  words: readonly string[],
  crewTypes: readonly string[],
): { readonly ok: true; readonly variation: Variation } | { readonly ok: false; readonly why: string } {
  const said = words.join(" ").trim();
  const refused = (why: string) => ({ ok: false, why: `--vary ${said}: ${why}; ${EXPECTED}.` }) as const;
  const ends = /^season +(\d{4}-\d\d-\d\d)\.\.(\d{4}-\d\d-\d\d) +by +(\d+) +(day|week)s?$/.exec(said);
  if (ends !== null) {
    const [first, last] = [dayFromIso(ends[1]!), dayFromIso(ends[2]!)];
    if (first === null || last === null) return refused("a day that the calendar does not have");
    return steps("season", null, [first, last, Number(ends[3]) * (ends[4] === "week" ? 7 : 1)], refused);
  }
  const found =
    /^(budget|crews) +(?:([a-z]+) +)?(\d+(?:\.\d+)?)\.\.(\d+(?:\.\d+)?) +by +(\d+(?:\.\d+)?)$/.exec(said);
  if (found === null) return refused("not understood");
  const of = found[1] as "budget" | "crews";
  const crew = found[2] ?? null;
  if (of === "budget" && crew !== null) return refused(`a budget has no ${JSON.stringify(crew)}`);
  if (of === "crews" && (crew === null || !crewTypes.includes(crew)))
    return refused(`crews are ${crewTypes.join(", ")}`);
  return steps(of, crew, [Number(found[3]), Number(found[4]), Number(found[5])], refused);
}

type Refusal = { readonly ok: false; readonly why: string };

function steps(
  of: Variation["of"],
  crew: string | null,
  [from, to, step]: readonly [number, number, number],
  refused: (why: string) => Refusal,
): { readonly ok: true; readonly variation: Variation } | Refusal {
  if (!(step > 0 && to > from)) return refused("the range must rise by steps above 0");
  const count = Math.floor((to - from) / step + 1e-9) + 1;
  if (count > MOST_POINTS) return refused(`${count} points are too many, ${MOST_POINTS} at most`);
  return {
    ok: true,
    variation: { of, crew, amounts: Array.from({ length: count }, (_, i) => from + i * step) },
  };
}
