import type { Building, CrossBoreState, HostMaterial, Surface } from "../src/columns/lateral-columns.ts";
import { type Metres, type Millimetres, metres } from "../src/quantity/si.ts";
import type { CitySpec, District } from "./city-spec.ts";
import { Random } from "./random.ts";
import { type Fate, omGradeAt, type SampleSurvey, surveyLateral } from "./survey-model.ts";

/** Streams of random numbers, one for each kind of thing, so that a change to one leaves the others as they were. */
const STREET_STREAM = 1;
const LATERAL_STREAM = 2;

const HOUSES_A_SIDE = 14;
const LATERALS_A_BLOCK = 2 * HOUSES_A_SIDE;
/** No street of the samples is newer, so that every lateral is older than its surveys. */
const NEWEST_YEAR = 2021;

/** No city's list of the samples knows of one that was made safe. */
export type SampleCrossBore = Exclude<CrossBoreState, "made safe">;

/** One invented lateral with its surveys: what is true of it, before anybody writes it down. SI units. */
export interface SampleLateral {
  readonly index: number;
  readonly district: District;
  readonly address: string;
  readonly diameter: Millimetres;
  readonly length: Metres;
  readonly material: HostMaterial;
  readonly installYear: number;
  readonly coverMain: Metres;
  readonly coverHouse: Metres;
  readonly waterTable: Metres;
  readonly surface: Surface;
  readonly mainDiameter: Millimetres;
  readonly mainNumber: number;
  readonly cleanout: boolean;
  /** Null where nobody has looked. */
  readonly crossBore: SampleCrossBore | null;
  readonly building: Building;
  readonly backups: number;
  /** Building end, metres in the city's local grid. */
  readonly x: number;
  readonly y: number;
  /** Oldest first. */
  readonly surveys: readonly SampleSurvey[];
}

/** An invented city of a given size: any of its laterals can be made alone, in any order. */
export interface City {
  readonly spec: CitySpec;
  readonly laterals: number;
  /** Index of the first lateral of each district, and the count of all at the end. */
  readonly starts: readonly number[];
  readonly lateralAt: (index: number) => SampleLateral;
}

/** @param laterals whole number, 1 or more */
export function foundCity(spec: CitySpec, laterals: number, seed: number): City {
  if (!Number.isInteger(laterals) || laterals < 1)
    throw new RangeError(`foundCity needs 1 lateral or more, got ${laterals}`);
  const starts = [0];
  let share = 0;
  for (const district of spec.districts) {
    share += district.share;
    starts.push(Math.min(laterals, Math.round(share * laterals)));
  }
  // Shares such as 0.1 do not add up to 1 exactly.
  starts[starts.length - 1] = laterals;

  const blocks = Math.ceil(
    Math.max(...starts.map((start, i) => start - (starts[i - 1] ?? 0))) / LATERALS_A_BLOCK,
  );
  const columns = Math.max(1, Math.ceil(Math.sqrt(blocks / 2)));
  const layout: Layout = {
    columns,
    width: (columns + 1) * (HOUSES_A_SIDE + 2) * spec.lotWidth,
    height: (Math.ceil(blocks / columns) + 1) * spec.streetPitch,
  };
  const random = new Random();

  const lateralAt = (index: number): SampleLateral => {
    if (!Number.isInteger(index) || index < 0 || index >= laterals)
      throw new RangeError(`lateralAt: the city has laterals 0 to ${laterals - 1}, got ${index}`);
    const place = placeOf(index, starts, spec, layout);
    const street = streetAt(random.restart(seed, STREET_STREAM, place.streetKey), place, spec);
    return lateralOn(random.restart(seed, LATERAL_STREAM, index), index, place, street, spec, layout);
  };
  return { spec, laterals, starts, lateralAt };
}

interface Layout {
  readonly columns: number;
  readonly width: number;
  readonly height: number;
}

interface Place {
  readonly district: District;
  readonly districtIndex: number;
  /** Block within the street, and street within the district. */
  readonly column: number;
  readonly row: number;
  readonly house: number;
  readonly side: 0 | 1;
  readonly streetKey: number;
}

function placeOf(index: number, starts: readonly number[], spec: CitySpec, layout: Layout): Place {
  let districtIndex = 0;
  while (index >= starts[districtIndex + 1]!) districtIndex += 1;
  const within = index - starts[districtIndex]!;
  const block = Math.floor(within / LATERALS_A_BLOCK);
  const row = Math.floor(block / layout.columns);
  return {
    district: spec.districts[districtIndex]!,
    districtIndex,
    column: block % layout.columns,
    row,
    house: Math.floor((within % LATERALS_A_BLOCK) / 2),
    side: within % 2 === 0 ? 0 : 1,
    streetKey: districtIndex * 1_000_000 + row,
  };
}

/** What the laterals of one street share. */
interface Street {
  readonly name: string;
  readonly kind: string;
  readonly year: number;
  readonly mainCover: number;
  readonly waterTable: number;
  readonly mainDiameter: Millimetres;
}

function streetAt(random: Random, place: Place, spec: CitySpec): Street {
  const { district, districtIndex, row } = place;
  const [from, to] = district.built;
  // Each district starts elsewhere in the list, so a name comes back only in a large city, and then with another kind.
  const ordinal = row * spec.districts.length + districtIndex;
  const turn = Math.floor(ordinal / spec.streetNames.length);
  return {
    name: spec.streetNames[ordinal % spec.streetNames.length]!,
    kind: spec.streetKinds[(ordinal + turn) % spec.streetKinds.length]!,
    year: Math.round(random.between(from, to)),
    mainCover: Math.max(1.2, random.bell(district.mainCover, 0.35)),
    // The ground rises away from the water, so the table lies deeper street by street, to a limit.
    waterTable: Math.max(
      0.5,
      Math.min(9, district.waterTable + 0.12 * Math.min(row, 20) + random.bell(0, 0.25)),
    ),
    mainDiameter: spec.mainSizes[weighIndex(random, spec.mainSizeMix)]!,
  };
}

function lateralOn(
  random: Random,
  index: number,
  place: Place,
  street: Street,
  spec: CitySpec,
  layout: Layout,
): SampleLateral {
  const { district } = place;
  const installYear = yearOn(random, street.year);
  const material = random.weigh(spec.eras.find((era) => installYear <= era.until)!.mix);
  const building = random.weigh(district.buildings);
  const diameter = spec.sizes[weighIndex(random, sizesFor(building, installYear, spec))]!;
  const stretch = building === "house" ? 1 : building === "restaurant" || building === "business" ? 0.9 : 1.3;
  const length = clamp(random.bell(district.length * stretch, 0.28 * district.length), 5, spec.longest);
  const coverMain = Math.max(1, random.bell(street.mainCover, 0.15));
  // A lateral falls to the main by 1 % at the least, and the ground is taken as level.
  const coverHouse = Math.max(
    0.4,
    Math.min(random.bell(district.houseCover, 0.2), coverMain - 0.01 * length),
  );
  const waterTable = Math.max(0.3, random.bell(street.waterTable, 0.15));
  const surface = random.weigh(district.surfaces);
  const cleanout = random.chance(installYear < 1960 ? 0.35 : installYear < 1985 ? 0.6 : 0.92);

  const structuralFate = random.next();
  const operationOwn = random.next();
  const connectionOwn = random.next();
  // A weak pipe is weak in all three ways more often than chance would have it: it shares one number.
  const operationFate = random.chance(0.4) ? structuralFate : operationOwn;
  const connectionFate = random.chance(0.3) ? structuralFate : connectionOwn;
  const fate: Fate = {
    material,
    installYear,
    length,
    structuralFate,
    operationFate,
    connectionFate,
    submerged: waterTable < coverMain,
    hurry: district.wear,
    rootHurry: district.trees,
    cleaned: random.chance(0.1),
    worsensIn: random.chance(0.08) ? random.pick(spec.seasons.slice(1)) : null,
  };
  const surveys = surveyLateral(random, fate, district.surveyed, spec.seasons);
  const crossBore = crossBoreAfter(random, surveys);
  const backups = backupsFor(random, omGradeAt(fate, spec.seasons.at(-1)! + 0.5), building);

  const [cornerX, cornerY] = spec.corner;
  const out = place.side === 0 ? 1 : -1;
  return {
    index,
    district,
    address: spec.address(
      street.name,
      street.kind,
      100 * (place.column + 1) + 6 * place.house + 1 + place.side,
    ),
    diameter,
    length: metres(length),
    material,
    installYear,
    coverMain: metres(coverMain),
    coverHouse: metres(coverHouse),
    waterTable: metres(waterTable),
    surface,
    mainDiameter: street.mainDiameter,
    mainNumber: 100 * (place.districtIndex * 100 + place.row + 1) + place.column + 1,
    cleanout,
    crossBore,
    building,
    backups,
    x:
      cornerX +
      (place.districtIndex % 3) * layout.width +
      (place.column * (HOUSES_A_SIDE + 2) + place.house + 0.5) * spec.lotWidth +
      random.bell(0, 1.2),
    // The main runs in the middle of the street, so the building stands a lateral's length away.
    y:
      cornerY +
      Math.floor(place.districtIndex / 3) * layout.height +
      place.row * spec.streetPitch +
      out * length * 0.95,
    surveys,
  };
}

/** Most laterals are as old as their street; some houses came later, and some laterals were replaced. */
function yearOn(random: Random, streetYear: number): number {
  const kind = random.next();
  const later = kind < 0.78 ? random.below(4) : kind < 0.92 ? random.below(30) : 35 + random.below(40);
  return Math.min(NEWEST_YEAR, streetYear + later);
}

function sizesFor(building: Building, year: number, spec: CitySpec): readonly number[] {
  switch (building) {
    case "house":
      return year < 1955 ? spec.sizeMix.oldHouse : spec.sizeMix.house;
    case "business":
    case "restaurant":
      return spec.sizeMix.business;
    case "apartments":
    case "school":
    case "hospital":
    case "industry":
      return spec.sizeMix.large;
    default:
      return building satisfies never;
  }
}

/** A camera clears most of what it passes; without one almost nobody knows. */
function crossBoreAfter(random: Random, surveys: readonly SampleSurvey[]): SampleCrossBore | null {
  const draw = random.next();
  if (surveys.length === 0) return draw < 0.06 ? "cleared" : draw < 0.09 ? "not cleared" : null;
  if (!surveys.some((survey) => survey.complete))
    return draw < 0.2 ? "cleared" : draw < 0.6 ? "not cleared" : null;
  if (draw < 0.83) return "cleared";
  if (draw < 0.835) return "found";
  return draw < 0.89 ? "not cleared" : null;
}

/** Backups in five years: a geometric count whose mean grows with the operation grade. Invented. */
function backupsFor(random: Random, omGrade: number, building: Building): number {
  const mean = [0.02, 0.04, 0.1, 0.35, 0.8, 1.4][omGrade]! * (building === "restaurant" ? 2 : 1);
  const again = mean / (1 + mean);
  let count = 0;
  while (count < 12 && random.chance(again)) count += 1;
  return count;
}

function weighIndex(random: Random, parts: readonly number[]): number {
  let total = 0;
  for (const part of parts) total += part;
  let left = random.next() * total;
  for (let i = 0; i < parts.length; i++) {
    left -= parts[i]!;
    if (left < 0) return i;
  }
  return parts.length - 1;
}

const clamp = (value: number, least: number, most: number) => Math.max(least, Math.min(most, value));
