import type { DecimalMark } from "../quantity/quantity-text.ts";
import type { UnitKey } from "../quantity/units.ts";
import type { InspectionKey, LateralKey, ObservationKey } from "./lateral-columns.ts";

/** Where one of our columns stands in a city's file. */
export interface HeaderPlace {
  /** Heading as the file writes it; the second of two equal headings is written `DIAM [2]`. */
  readonly heading: string;
  /** Unit of a bare number in this column. Absent for columns that have no unit. */
  readonly unit?: UnitKey;
}

/** How a file of the city is read: found when the program is made, written to its settings, changed only there. */
export interface CityFile<Key extends string> {
  /** Path inside the program folder. */
  readonly file: string;
  readonly delimiter: "," | ";" | "\t" | "|";
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
  readonly decimalMark: DecimalMark;
  /** Order of day and month in dates like 3/4/2025. */
  readonly dateOrder: "month first" | "day first";
  readonly columns: Readonly<Partial<Record<Key, HeaderPlace>>>;
}

export type LateralFile = CityFile<LateralKey>;

export interface InspectionFile extends CityFile<InspectionKey> {
  /** Which end of the city's scale is the worst; grades are turned to 5 = worst as they are read. */
  readonly worstGrade: 5 | 1 | 0;
}

export interface ObservationFile extends CityFile<ObservationKey> {
  /** As for inspections; one city may grade its surveys and their observations by different scales. */
  readonly worstGrade: 5 | 1 | 0;
}
