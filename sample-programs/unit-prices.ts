import type { BidItemKey } from "../src/reference/bid-items.ts";
import type { SampleStyle } from "./city-spec.ts";

/** Price of an item: one for all its variants, or one for each. */
export type ItemPrice = number | Readonly<Record<string, number>>;

export interface UnitPrices {
  readonly source: string;
  readonly items: Readonly<Partial<Record<BidItemKey, ItemPrice>>>;
}

const SOURCE = "Invented prices for the demonstration; not for use";

/**
 * Invented prices. They were kept near what cities have published, so that totals look like a city's: lining of a
 * whole public lateral about 4,500 (City of Eugene OR, Wastewater Master Plan 2020, p. 41, 30 ft, with engineering)
 * to 8,700 (press on Milwaukee WI, about 2012); replacement 6,000 to 12,000 (press on West Allis WI, 2013).
 */
const us: UnitPrices = {
  source: SOURCE,
  items: {
    mobilization: 24_000,
    "traffic control": 18_500,
    "camera inspection": 350,
    "root cutting": { "3 in": 5.5, "4 in": 5.5, "5 in": 6.25, "6 in": 6.75, "8 in": 8 },
    "sectional liner": sectional(
      { "3 in": 1_650, "4 in": 1_700, "5 in": 1_850, "6 in": 1_950, "8 in": 2_400 },
      { "2 ft": 0, "3 ft": 140, "4 ft": 270, "6 ft": 520, "10 ft": 980 },
    ),
    "full-length liner": { "3 in": 4_150, "4 in": 4_200, "5 in": 4_500, "6 in": 4_750, "8 in": 5_900 },
    "additional liner length": { "3 in": 54, "4 in": 56, "5 in": 61, "6 in": 66, "8 in": 84 },
    "connection liner": { "8 in": 3_100, "10 in": 3_350, "12 in": 3_700, "15 in": 4_400 },
    "new cleanout": 1_450,
    "open-cut replacement": { "3 in": 165, "4 in": 168, "5 in": 176, "6 in": 184, "8 in": 212 },
    "joint grouting": { "3 in": 30, "4 in": 32, "5 in": 36, "6 in": 40, "8 in": 48 },
    "pipe bursting": { "3 in": 118, "4 in": 122, "5 in": 131, "6 in": 142, "8 in": 176 },
    "grouting of running infiltration": 650,
    reinstatement: 390,
    "surface restoration": { street: 13.5, alley: 9.75, driveway: 12.25, sidewalk: 11, yard: 2.4 },
  },
};

const si: UnitPrices = {
  source: SOURCE,
  items: {
    mobilization: 16_500,
    "traffic control": 12_800,
    "camera inspection": 240,
    "root cutting": { "75 mm": 15.5, "100 mm": 16, "125 mm": 17.5, "150 mm": 19, "200 mm": 24 },
    "sectional liner": sectional(
      { "75 mm": 1_150, "100 mm": 1_180, "125 mm": 1_240, "150 mm": 1_320, "200 mm": 1_580 },
      { "0.6 m": 0, "0.9 m": 95, "1.2 m": 190, "1.8 m": 370, "3 m": 720 },
    ),
    "full-length liner": {
      "75 mm": 2_850,
      "100 mm": 2_900,
      "125 mm": 3_050,
      "150 mm": 3_250,
      "200 mm": 4_050,
    },
    "additional liner length": { "75 mm": 145, "100 mm": 150, "125 mm": 162, "150 mm": 178, "200 mm": 225 },
    "connection liner": { "200 mm": 2_250, "250 mm": 2_400, "300 mm": 2_650, "400 mm": 3_200 },
    "new cleanout": 1_280,
    "open-cut replacement": { "75 mm": 480, "100 mm": 490, "125 mm": 515, "150 mm": 540, "200 mm": 620 },
    "joint grouting": { "75 mm": 82, "100 mm": 85, "125 mm": 94, "150 mm": 104, "200 mm": 126 },
    "pipe bursting": { "75 mm": 345, "100 mm": 355, "125 mm": 380, "150 mm": 410, "200 mm": 505 },
    "grouting of running infiltration": 480,
    reinstatement: 310,
    "one-piece liner": onePiece(
      { "75 mm": 4_450, "100 mm": 4_500, "125 mm": 4_650, "150 mm": 4_850, "200 mm": 5_650 },
      { "200 mm": 0, "250 mm": 150, "300 mm": 400, "400 mm": 950 },
    ),
    "additional one-piece length": {
      "75 mm": 165,
      "100 mm": 170,
      "125 mm": 184,
      "150 mm": 202,
      "200 mm": 255,
    },
    "surface restoration": { street: 118, alley: 104, driveway: 92, sidewalk: 86, yard: 19 },
  },
};

export const unitPrices: Readonly<Record<SampleStyle, UnitPrices>> = { us, si };

/** `100 mm, main 200 mm` and so on: a price by size, and more for a wider main. */
function onePiece(
  bySize: Readonly<Record<string, number>>,
  moreByMain: Readonly<Record<string, number>>,
): Record<string, number> {
  const prices: Record<string, number> = {};
  for (const [size, price] of Object.entries(bySize)) {
    for (const [main, more] of Object.entries(moreByMain)) prices[`${size}, main ${main}`] = price + more;
  }
  return prices;
}

/** `4 in x 2 ft` and so on: a price by size, and more for a longer liner. */
function sectional(
  bySize: Readonly<Record<string, number>>,
  moreByLength: Readonly<Record<string, number>>,
): Record<string, number> {
  const prices: Record<string, number> = {};
  for (const [size, price] of Object.entries(bySize)) {
    for (const [length, more] of Object.entries(moreByLength)) prices[`${size} x ${length}`] = price + more;
  }
  return prices;
}
