import type { CityFile } from "../src/columns/city-file.ts";
import type { InspectionKey, LateralKey, ObservationKey } from "../src/columns/lateral-columns.ts";
import type { UnitKey } from "../src/quantity/units.ts";
import type { SampleLateral } from "./city-model.ts";
import type { Planted } from "./planting.ts";
import type { Random } from "./random.ts";
import type { SampleSurvey } from "./survey-model.ts";

/** One column of a city's file: the heading as the city writes it and, where we have one, our key and the unit of a bare number. */
export interface Heading<Key extends string> {
  readonly heading: string;
  readonly key?: Key;
  readonly unit?: UnitKey;
}

/** One survey of one lateral, with its number in the file, from 1. */
export interface SurveyRow {
  readonly lateral: SampleLateral;
  readonly survey: SampleSurvey;
  readonly ordinal: number;
}

/** How a kind of row is written: clean cells, then the many spellings of real files, then single oddities. */
export interface RowForm<Key extends string, Thing> {
  readonly headings: readonly Heading<Key>[];
  /** Clean text, one cell a heading. */
  readonly write: (thing: Thing) => string[];
  /** Writes some cells as different people and systems would. */
  readonly dress: (cells: string[], thing: Thing, random: Random) => void;
  /** Oddities that appear once each. */
  readonly planted: readonly Planted<Thing>[];
}

/** How a city writes its files. */
export interface CityForm {
  readonly file: Pick<CityFile<string>, "delimiter" | "encoding" | "decimalMark" | "dateOrder">;
  readonly lineEnd: "\r\n" | "\n";
  readonly byteOrderMark: boolean;
  /** A line above the headings of the lateral file. */
  readonly title: string | null;
  readonly worstGrade: 5 | 0;
  readonly laterals: RowForm<LateralKey, SampleLateral>;
  readonly inspections: RowForm<InspectionKey, SurveyRow>;
  /** What was seen in the surveys; null where the city gets grades alone. Plain files have none. */
  readonly observations: {
    readonly headings: readonly Heading<ObservationKey>[];
    readonly write: (row: SurveyRow, random: Random) => readonly (readonly string[])[];
    /** The city's own codes by our kind. */
    readonly kinds: Readonly<Record<string, readonly string[]>>;
  } | null;
}

/** Places of our keys among the headings. */
export function placesOf<Key extends string>(headings: readonly Heading<Key>[]): Record<Key, number> {
  const places = {} as Record<Key, number>;
  for (const [i, { key }] of headings.entries()) if (key !== undefined) places[key] = i;
  return places;
}
