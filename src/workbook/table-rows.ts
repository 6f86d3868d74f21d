import {
  quantities as measures,
  type QuantityMeasure,
  toShown,
  type UnitSystem,
} from "../quantity/measure.ts";
import { showWrittenDate } from "../quantity/show-date.ts";
import { unitLabel } from "../quantity/show-quantity.ts";
import { convert, units } from "../quantity/units.ts";
import type { ProgramHead } from "../reference/basis.ts";
import { describeSource, type Source } from "../reference/source.ts";
import { capital } from "./book-contents.ts";
import { decimalsOf, textOrDate, trimmed } from "./number-format.ts";
import type { Cell } from "./sheet-model.ts";

/** One value that the plan rests on. */
export interface BasisRow {
  readonly group: string;
  readonly what: string;
  readonly value: Cell;
  readonly unit: string;
  readonly source: Source;
}

/** How a number is shown that is no measure of the program's own: the number and its unit, as people of the system write it. */
type Derived = (value: number, system: UnitSystem) => readonly [number, string];
type Unit = QuantityMeasure | Derived;

const plain =
  (unit: string): Derived =>
  (value) => [value, unit];
const perLength =
  (what: string): Derived =>
  (value, system) => [value * convert(1, measures.length[system], "m"), `${what}/${lengthUnit(system)}`];
/** L for each metre, as the program writes volumes and lengths. */
const litresPerLength: Derived = (value, system) => [
  convert(value, "L", measures.volume[system]) * convert(1, measures.length[system], "m"),
  `${units[measures.volume[system]].spellings[0]}/${lengthUnit(system)}`,
];
const lengthPerMinute: Derived = (value, system) => [
  convert(value, "m", measures.length[system]),
  `${lengthUnit(system)}/min`,
];
/** A difference of temperatures has no zero point: 1 °C is 1.8 °F. */
const degreesPerHour: Derived = (value, system) =>
  system === "us" ? [value * 1.8, "°F/h"] : [value, "°C/h"];
const lengthUnit = (system: UnitSystem): string => units[measures.length[system]].spellings[0];

/**
 * What a number of a reference table measures, by the end of its path; the first that fits counts. A test finds the
 * numbers that none fits.
 */
const unitsByPath: readonly (readonly [RegExp, Unit])[] = [
  [/works\.[a-z -]+\.(structural|blockage|reached)\.(least|best|most)$/, "percent"],
  [/Materials\.rolls\.(length|usableLeft)$/, "length"],
  [/Materials\.grout\.perMetre$/, litresPerLength],
  [/Materials\.grout\.(container|perStop)$/, "volume"],
  [/Materials\.(seals\.box|bladders\.lives)$/, plain("pieces")],
  [/Materials\.passes\.values\.[a-z -]+\.\w+$/, plain("times")],
  [/^Uncertainty\.(draws|seed)$/, plain("")],
  [/^Uncertainty\.estimateClass$|classAccuracy\.\d+\.class$/, plain("class of 5")],
  [/^Uncertainty\..+\.(least|best|most)$/, plain("times the plan")],
  [/^Uncertainty\.(.+\.chance|contingencyLevel|classAccuracy\..+)$/, "percent"],
  [/(chance|leaksByGrade\.\d|sealed|migration)\.(least|best|most)$/, "percent"],
  [/(poorFound|missed|falsePoor|callShare|level|newStays\.value)$/, "percent"],
  [/(backsUp|spills)\.(structural|blockage)$/, "percent"],
  [/rows(\.\d+)*$/, plain("chance a step")],
  [/(withinYears|strengthYears|uselessAfterYears\.value|assumedLife\.scale|unknownAge)$/, plain("years")],
  [/yearsPerStep\.value$/, plain("years a step")],
  [/eraStarts\.value(\.\d+)?$/, plain("year")],
  [/assumedLife\.(shape|within)$/, plain("")],
  [/poorFrom$/, plain("grade")],
  [/(ratePerYear(\.\d+)?|rateNotGraded)$/, plain("a year")],
  [/byTreatment\..+\.(pipes|infiltration)$/, "percent"],
  [/(surveyed|notSurveyed|assumedPoints)$/i, plain("points")],
  [/spreads\.weights$/, "percent"],
  [/population$/, plain("people")],
  [/(highGroundwaterFlow|stormFlow)$/, "flow"],
  [/highSeasonDays$/, plain("days")],
  [/GpdPerInchMile$/, plain("gal/day per inch-mile")],
  [/(bySurface\.\w+|cents)$/, "money"],
  [/centsPerCubicMetre$/, plain("cents per m³")],
  [/(safetyFactor|enhancement|poissonsRatio|liveLoadReduction|factorPerTenDegrees)$/, plain("")],
  [/([fF]riction|bends|radiusInDiameters|slope|units)$/, plain("")],
  [/(sound|worn|liner)\.(least|most)$/, plain("")],
  [/mix\.(base|hardener)$/, plain("parts")],
  [/[gG]rade$/, plain("grade")],
  [/(greatestBend|bendDegrees|junctionAngle)$/, plain("degrees")],
  [/(slowest|fastest|metresPerMinute)$/, lengthPerMinute],
  [/degreesPerHour$/, degreesPerHour],
  [/(daysLost\.\w+|mobilisationDays)$/, plain("days")],
  [/crews\.\w+(\.changes\.\d+)?\.count$/, plain("crews")],
  [/detour$/, plain("")],
  [/kilometresPerHour$/, plain("km/h")],
  [/coordinateMetres$/, plain("m")],
  [/(inutes|sinceMixing|haul)$/, "duration"],
  [/times\.perMetre$/, perLength("min")],
  [/kilogramsPerMetre$/, "linear_mass"],
  [/(soilModulus|shortTermModulus|flexuralStrength|modulus|strength)$/, "modulus"],
  [/soilUnitWeight$/, "unit_weight"],
  [/(horizonYears|[yY]ears\.[a-z -]+)$/, plain("years")],
  [/discountRate$/, "percent"],
  [/(minimumWall|stockedWalls|upTo|wall|thickness)$/, "wall"],
  [/(stockedDiameters|diameter|least|most|brimWidth|trapSeal)$/, "diameter"],
  [/(longest\w*|run(In|Out)|\w*EachSide|defectLength|stockedLengths\.values|lengthUpLateral)$/, "length"],
  [/pits\..+\.area$/, "area"],
  [/(trenchWidth|branchHead|\.lap)$/, "length"],
  [/(statedLiveLoad|inflation\.(margin|bladder|host))$/, "pressure"],
  [/(holdBack|winchLimit|tubeLimit)$/, "force"],
  [/(\w*[tT]emperature(\.value)?|release(\.value)?|propertiesUpTo|temperatureRating)$/, "temperature"],
  [/(celsius|atCelsius|heatTo|coolTo|bears)$/i, "temperature"],
  [/(density\.used|\w*Density(\.value)?)$/, "density"],
  [/(voidRatio|excess|\w*Retention|\w*Tolerance|sizeChangeBridged|\w*[fF]raction|waste)$/, "percent"],
  [/(sizeSlack\.value|pot life margin\.used)$/i, "percent"],
  [/(scale\.step|containers\.(kit\.)?(resin|base|hardener))$/, "mass"],
  [/velocity$/, "velocity"],
  [/(flow|designFlow)$/, "flow"],
];

/** The unit of a number for which no rule is known: as stored, in the units of the reference tables. */
export const UNIT_NOT_KNOWN = "(as stored)";

/**
 * A row for each value of a table, however deep: named by its path, with the nearest source. A source stands for what
 * is listed before it, back to the source before; `source` stands for the rest of its record too.
 *
 * @param inherited the source where the table names none of its own
 */
export function tableRows(
  group: string,
  table: object,
  program: ProgramHead,
  inherited: Source,
): readonly BasisRow[] {
  return rowsWithin(table, [], inherited);

  function rowsWithin(record: object, path: readonly string[], outer: Source): readonly BasisRow[] {
    const entries = Object.entries(record) as readonly (readonly [string, unknown])[];
    const own = sourceIn(record) ?? outer;
    return entries.flatMap(([key, value], i) => {
      if (isSourceKey(key) || key === "what") return [];
      const following = entries.slice(i).find(([later]) => isSourceKey(later))?.[1];
      const source = isSource(following) ? following : own;
      return rowsOf(value, [...path, key], source);
    });
  }

  function rowsOf(value: unknown, path: readonly string[], source: Source): readonly BasisRow[] {
    const row = (cell: Cell, unit: string): readonly BasisRow[] => [
      { group, what: capital(path.map(inWords).join(", ")), value: cell, unit, source },
    ];
    if (value === null || value === undefined || value === "") return row("none", "");
    if (typeof value === "string") return row(textOrDate(value, program.print.dates), "");
    if (typeof value === "boolean") return row(value ? "yes" : "no", "");
    if (typeof value === "number") return row(...numberShown(value, unitOf([group, ...path]), program));
    if (!Array.isArray(value)) return rowsWithin(value as object, path, source);
    if (value.length === 0) return row("none", "");
    if (value.every((each) => typeof each === "number"))
      return row(...numbersShown(value, unitOf([group, ...path]), program));
    if (value.every((each) => typeof each === "string")) return row(listed(value, program), "");
    return value.flatMap((each, i) => rowsOf(each, [...path, nameIn(each) ?? String(i + 1)], source));
  }
}

/** A list in one cell; days may have a comma in them, and are set apart by more. */
function listed(words: readonly string[], { print }: ProgramHead): string {
  const shown = words.map((each) => showWrittenDate(each, print.dates));
  return shown.join(shown.some((each) => each.includes(", ")) ? "; " : ", ");
}

/** One number as a cell, with its unit: in the units of the program, no more decimals than it needs. */
function numberShown(value: number, unit: Unit | undefined, program: ProgramHead): readonly [Cell, string] {
  const [shown, written] = inUnits(value, unit, program);
  return [trimmed(shown), written];
}

function inUnits(
  value: number,
  unit: Unit | undefined,
  program: ProgramHead,
): readonly [value: number, unit: string] {
  if (unit === undefined) return [value, UNIT_NOT_KNOWN];
  if (typeof unit === "function") return unit(value, program.units);
  return [toShown(value, unit, program.units), unitLabel(unit, program)];
}

/** A list in one cell is text: 3.0, 4.5, 6.0. */
function numbersShown(
  values: readonly number[],
  unit: Unit | undefined,
  program: ProgramHead,
): readonly [Cell, string] {
  const shown = values.map((value) => inUnits(value, unit, program));
  const decimals = Math.max(...shown.map(([value]) => decimalsOf(value)));
  return [shown.map(([value]) => value.toFixed(decimals)).join(", "), shown[0]?.[1] ?? ""];
}

/** The first rule that fits, kept by path: sixty rules for each of some hundred numbers are most of the work of a sheet. */
const unitsFound = new Map<string, Unit | null>();
function unitOf(path: readonly string[]): Unit | undefined {
  const way = path.join(".");
  const found = unitsFound.get(way) ?? unitsByPath.find(([end]) => end.test(way))?.[1] ?? null;
  unitsFound.set(way, found);
  return found ?? undefined;
}

const isSourceKey = (key: string): boolean => key === "source" || key === "sources" || key.endsWith("Source");

const isSource = (value: unknown): value is Source =>
  typeof value === "object" && value !== null && "document" in value;

/** The record's own source; several are told as one. */
function sourceIn(record: object): Source | null {
  if ("source" in record && isSource(record.source)) return record.source;
  if (!("sources" in record) || !Array.isArray(record.sources)) return null;
  const all = record.sources.filter(isSource);
  return all.length === 0 ? null : { document: all.map(describeSource).join("; ") };
}

/** What a row of a table is called. */
function nameIn(value: unknown): string | null {
  if (typeof value !== "object" || value === null) return null;
  for (const key of ["key", "standard", "name"] as const) {
    const name = (value as Readonly<Record<string, unknown>>)[key];
    if (typeof name === "string") return name;
  }
  return null;
}

/** Keys that are written otherwise than people here write the word: the trade's bid items say mobilization. */
const SPELLED: Readonly<Record<string, string>> = { mobilisationDays: "mobilization days" };

/** `runInLength` as `run in length`; a name of two words or more is left as it is. */
const inWords = (key: string): string =>
  SPELLED[key] ??
  (/\W/.test(key) ? key : key.replace(/(?<=[a-z])[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`));
