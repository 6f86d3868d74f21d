import type { Building, HostMaterial, Surface } from "../src/columns/lateral-columns.ts";
import type { Metres, Millimetres } from "../src/quantity/si.ts";
import type { Weights } from "./random.ts";

export const sampleStyles = ["us", "si"] as const;
export type SampleStyle = (typeof sampleStyles)[number];

export const isSampleStyle = (text: string): text is SampleStyle =>
  (sampleStyles as readonly string[]).includes(text);

/** What makes one district unlike the next. All of it is invented. */
export interface District {
  /** As the city's files write it. */
  readonly name: string;
  /** Other spellings found in the files. */
  readonly aliases: readonly string[];
  /** Two letters, an extra column that no plan needs. */
  readonly basin: string;
  /** What it is like, for people. */
  readonly about: string;
  /** Part of the city's laterals; the parts add up to 1. */
  readonly share: number;
  /** Years in which its streets were built. */
  readonly built: readonly [from: number, to: number];
  /** Mean length of a lateral. */
  readonly length: Metres;
  /** Mean cover over a lateral at the main. */
  readonly mainCover: Metres;
  /** Mean cover at the building: deep where there are basements. */
  readonly houseCover: Metres;
  /** Depth of the groundwater table at the district's low side. */
  readonly waterTable: Metres;
  /** Above 1: more and older trees, so roots come sooner. */
  readonly trees: number;
  /** Above 1: soil and water that wear pipes sooner. */
  readonly wear: number;
  /** Chance of a first survey in each season. */
  readonly surveyed: readonly number[];
  readonly buildings: Weights<Building>;
  readonly surfaces: Weights<Surface>;
}

/** What was laid up to and including a year. */
export interface MaterialEra {
  readonly until: number;
  readonly mix: Weights<HostMaterial>;
}

/** Sizes of a kind of building, by the nominal sizes of the city. */
export interface SizeMix {
  readonly oldHouse: readonly number[];
  readonly house: readonly number[];
  readonly business: readonly number[];
  readonly large: readonly number[];
}

/** An invented city, without its size: the generator makes as many laterals as it is asked for. */
export interface CitySpec {
  readonly style: SampleStyle;
  readonly name: string;
  /** Calendar years of the survey seasons. */
  readonly seasons: readonly number[];
  readonly districts: readonly District[];
  readonly eras: readonly MaterialEra[];
  /** Nominal inside diameters of laterals, smallest first. */
  readonly sizes: readonly Millimetres[];
  /** Parts of each size, in the order of `sizes`. */
  readonly sizeMix: SizeMix;
  readonly mainSizes: readonly Millimetres[];
  readonly mainSizeMix: readonly number[];
  readonly longest: Metres;
  readonly lotWidth: Metres;
  readonly streetPitch: Metres;
  readonly streetNames: readonly string[];
  readonly streetKinds: readonly string[];
  /** Address from street name, kind and house number. */
  readonly address: (name: string, kind: string, house: number) => string;
  /** Corner of the local grid, in metres. */
  readonly corner: readonly [x: number, y: number];
  /** The local grid, as invented as the city: a projection that any tool can read, with an origin of our own. */
  readonly grid: string;
}
