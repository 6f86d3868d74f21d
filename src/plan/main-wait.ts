import { dayFromIso } from "../quantity/calendar.ts";
import type { Day } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Lateral } from "./lateral.ts";

/** What is known of a lateral's main: "" where nothing is. */
export interface MainOfLateral {
  readonly lateral: string;
  readonly district: string;
  readonly mainLining: string;
}

/** Whether the main is to be lined before the lateral is worked on, and from which day the work may follow it. */
export type MainDay =
  | { readonly kind: "no wait" }
  | { readonly kind: "from"; readonly day: Day }
  | { readonly kind: "not this season" };

/** Whether the work at a lateral waits for its main, and until when. */
export type MainWait =
  | { readonly kind: "free" }
  | { readonly kind: "until"; readonly day: Day }
  | { readonly kind: "not this season" };

/** What is done before any main: nothing is put into the pipe. */
const BEFORE_THE_MAIN = "inspect first";

export const TO_BE_LINED = "to be lined";

const NO_WAIT: MainDay = { kind: "no wait" };

/**
 * The day is that of `season.mains_lined`, of the lateral or else of its district. Where no day is given, or one after the calendar ends,
 * the main is not lined in this season.
 *
 * @throws RangeError for a day of settings that were not checked
 */
export function mainDayOf(
  { lateral, district, mainLining }: MainOfLateral,
  { mainsLined, calendar }: Pick<Basis, "mainsLined" | "calendar">,
): MainDay {
  if (mainLining !== TO_BE_LINED) return NO_WAIT;
  const own = mainsLined.laterals[lateral];
  const given = own === undefined ? mainsLined.districts[district] : own;
  if (given === undefined || given === null) return { kind: "not this season" };
  if (calendar !== null && given > calendar.ends) return { kind: "not this season" };
  const day = dayFromIso(given);
  if (day === null) throw new RangeError(`mainDayOf: ${JSON.stringify(given)} is no day`);
  return { kind: "from", day };
}

/** The same of a lateral's record: texts are read of those only that wait. */
export function mainDayOfLateral(
  lateral: Pick<Lateral, "id" | "district" | "mainLining">,
  basis: Pick<Basis, "mainsLined" | "calendar">,
): MainDay {
  const mainLining = lateral.mainLining?.value ?? "";
  if (mainLining !== TO_BE_LINED) return NO_WAIT;
  return mainDayOf({ lateral: lateral.id, district: lateral.district, mainLining }, basis);
}

/**
 * Main first: where the city's list says that the main is to be lined, the lateral's work follows it. An inspection waits for nothing, nor
 * does a lateral whose main is lined, is not to be lined, or of which nothing is known.
 */
export function waitOf(
  main: MainOfLateral,
  treatment: string,
  basis: Pick<Basis, "mainsLined" | "calendar">,
): MainWait {
  if (treatment === BEFORE_THE_MAIN) return { kind: "free" };
  const found = mainDayOf(main, basis);
  switch (found.kind) {
    case "no wait":
      return { kind: "free" };
    case "not this season":
      return found;
    case "from": {
      const starts = basis.calendar === null ? null : dayFromIso(basis.calendar.starts);
      return starts !== null && found.day <= starts ? { kind: "free" } : { kind: "until", day: found.day };
    }
    default:
      return found satisfies never;
  }
}
