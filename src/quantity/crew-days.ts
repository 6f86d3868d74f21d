import { showNumber } from "./show-quantity.ts";
import { wholeParts } from "./whole-parts.ts";

/** Hundredths of a crew-day that so many minutes are. Given a sum it is rounded once: parts that were rounded add up to another figure. */
export const crewDayHundredths = (minutes: number, shiftMinutes: number): number =>
  Math.round((minutes * 100) / shiftMinutes);

/** The parts of a sum beside it: they add up to what the sum is rounded to. */
export const crewDayParts = (minutes: readonly number[], shiftMinutes: number): readonly number[] =>
  wholeParts(
    minutes.map((each) => (each * 100) / shiftMinutes),
    crewDayHundredths(
      minutes.reduce((sum, each) => sum + each, 0),
      shiftMinutes,
    ),
  );

/** Hundredths as people see them: `13.58`. */
const show = (hundredths: number): string =>
  showNumber(hundredths / 100, "days", { units: "us", currency: "" });

export const showCrewDays = (minutes: number, shiftMinutes: number): string =>
  show(crewDayHundredths(minutes, shiftMinutes));

/** A column of a table: each part, and under them their sum, which is what they add up to as printed. */
export function crewDayColumn(minutes: readonly number[], shiftMinutes: number): readonly string[] {
  const parts = crewDayParts(minutes, shiftMinutes);
  return [...parts, parts.reduce((sum, each) => sum + each, 0)].map(show);
}
