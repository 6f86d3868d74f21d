import type { Day } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { type Table, textAt } from "../sheet/table.ts";
import { knownDay } from "./work-days.ts";

/** Whether the work at a lateral waits for its main, and until when. */
export type MainWait =
  | { readonly kind: "free" }
  | { readonly kind: "until"; readonly day: Day }
  | { readonly kind: "not this season" };

/** A lateral or district that `season.mains_lined` names without effect: no main there is to be lined. */
export interface IdleMain {
  readonly kind: "lateral" | "district";
  readonly name: string;
  /** What the city's list says of the lateral's main; "" where it says nothing, and of districts. */
  readonly lining: string;
}

/** What `season.mains_lined` names without effect, laterals first. Names that the city does not have are left to strangersIn. */
export function idleMains(laterals: Table, { mainsLined }: Pick<Basis, "mainsLined">): readonly IdleMain[] {
  const idle: IdleMain[] = [];
  const districts = new Map(Object.keys(mainsLined.districts).map((name) => [name, false]));
  const seen = new Set<string>();
  for (let row = 0; row < laterals.rows; row++) {
    const lining = laterals.columns.has("main_lining") ? textAt(laterals, "main_lining", row) : "";
    const district = textAt(laterals, "district", row);
    seen.add(district);
    if (lining === TO_BE_LINED && districts.has(district)) districts.set(district, true);
    const name = textAt(laterals, "lateral", row);
    if (lining !== TO_BE_LINED && name in mainsLined.laterals) idle.push({ kind: "lateral", name, lining });
  }
  for (const [name, hasMain] of districts)
    if (!hasMain && seen.has(name)) idle.push({ kind: "district", name, lining: "" });
  return idle;
}

const TO_BE_LINED = "to be lined";
/** What is done before any main: nothing is put into the pipe. */
const BEFORE_THE_MAIN = "inspect first";

/**
 * Main first: where the city's list says that the main is to be lined, the lateral's work follows it. The day is that of
 * `season.mains_lined`, of the lateral or else of its district. Where no day is given, or one after the calendar ends, the work is not in
 * this season. An inspection waits for nothing, nor does a lateral whose main is lined, is not to be lined, or of which nothing is known.
 */
export function waitForMain(
  laterals: Table,
  row: number,
  treatment: string,
  { mainsLined, calendar }: Pick<Basis, "mainsLined" | "calendar">,
): MainWait {
  if (!laterals.columns.has("main_lining") || textAt(laterals, "main_lining", row) !== TO_BE_LINED)
    return { kind: "free" };
  if (treatment === BEFORE_THE_MAIN) return { kind: "free" };
  const own = mainsLined.laterals[textAt(laterals, "lateral", row)];
  const given = own === undefined ? mainsLined.districts[textAt(laterals, "district", row)] : own;
  if (given === undefined || given === null) return { kind: "not this season" };
  if (calendar !== null && given > calendar.ends) return { kind: "not this season" };
  if (calendar !== null && given <= calendar.starts) return { kind: "free" };
  return { kind: "until", day: knownDay(given) };
}
