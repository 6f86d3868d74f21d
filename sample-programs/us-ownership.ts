import type { LateralKey } from "../src/columns/lateral-columns.ts";
import { dayFromIso, isoDate } from "../src/quantity/calendar.ts";
import { type Day, day } from "../src/quantity/si.ts";
import type { Heading } from "./city-form.ts";
import { decimal, padded } from "./csv-row.ts";
import { Random } from "./random.ts";

/** Columns of another department, joined to the end of the export. */
export const usOwnershipHeadings: readonly Heading<LateralKey>[] = [
  { heading: "LOWER_LEN", key: "lower_length", unit: "ft" },
  { heading: "UPPER_LEN", key: "upper_length", unit: "ft" },
  { heading: "LOWER_OWNER", key: "lower_owner" },
  { heading: "UPPER_OWNER", key: "upper_owner" },
  { heading: "CITY_SHARE_PCT", key: "city_share", unit: "percent" },
  { heading: "PL_CLEANOUT", key: "property_line_cleanout" },
  { heading: "ROE_SIGNED", key: "permission_signed" },
  { heading: "ROE_EXPIRES", key: "permission_expires" },
];

/** Its own stream of draws, so that no other cell of the city depends on it. */
const STREAM = [20_260_301, 77] as const;
const random = new Random();

/**
 * Who owns and pays, invented: the city has nearly every lower part, owners nearly every upper one; about six in ten have
 * signed, some of them too long ago.
 *
 * @param writtenFeet length as the file has it, so that the parts add up to it
 */
export function writeUsOwnership(index: number, writtenFeet: string): string[] {
  random.restart(...STREAM, index);
  const tenths = Math.round(Number(writtenFeet) * 10);
  const lower = Math.round(tenths * random.between(0.35, 0.6));
  const known = random.chance(0.94);
  const lowerOwner = random.chance(0.96) ? "CITY" : "PRIVATE";
  const upperOwner = random.chance(0.97) ? "PRIVATE" : "CITY";
  const share = random.weigh({ "0": 40, "50": 40, "100": 20 });
  const cleanout = random.chance(0.3) ? "Y" : "N";
  const signed = random.chance(0.62) ? random.below(700) : null;
  const forYears = random.weigh({ "1": 35, "2": 45, none: 20 });
  if (!known) return usOwnershipHeadings.map(() => "");
  const on = signed === null ? null : dayBefore(signed);
  return [
    decimal(lower / 10, 1, "."),
    decimal((tenths - lower) / 10, 1, "."),
    lowerOwner,
    upperOwner,
    share,
    cleanout,
    on === null ? "" : written(on),
    on === null || forYears === "none" ? "" : written(day(on + 365 * Number(forYears))),
  ];
}

const AS_OF = dayFromIso("2026-03-01")!;
const dayBefore = (days: number): Day => day(AS_OF - 1 - days);

/** 3/14/2025, as the department types it. */
function written(on: Day): string {
  const [year = "", month = "", date = ""] = isoDate(on).split("-");
  return `${Number(month)}/${Number(date)}/${padded(Number(year), 4)}`;
}
