import { nominalFor } from "../engineering/nominal-size.ts";
import { joinedOnce } from "../quantity/joined-once.ts";
import { quantities as measures, type UnitSystem } from "../quantity/measure.ts";
import { toHundredths } from "../quantity/money.ts";
import type { Metres, Millimetres } from "../quantity/si.ts";
import { convert, converter, units } from "../quantity/units.ts";
import type { Basis } from "../reference/basis.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { WorkKind } from "../reference/works.ts";
import { houseCover } from "./cover.ts";
import type { Lateral } from "./lateral.ts";
import type { Liner, SectionLiner } from "./liner.ts";
import { restoredSurfaces } from "./restored-surface.ts";

/** One line of the bid schedule as one lateral uses it. */
export interface BidLine {
  readonly item: BidItemKey;
  /** Size or surface, as people see it: `4 in`, `150 mm`, `street`; "" for an item without variants. */
  readonly variant: string;
  /** Whole hundredths of the item's bid unit: each, feet or metres, square feet or square metres. */
  readonly hundredths: number;
}

/** Name of a line over all laterals: `full-length liner | 4 in`. */
export const bidLineKey = ({ item, variant }: Pick<BidLine, "item" | "variant">): string =>
  variant === "" ? item : itemWithVariant(item, variant);
const itemWithVariant = joinedOnce((item: BidItemKey, variant: string) => `${item} | ${variant}`);

const ONE = 100;

/**
 * What the contractor is paid for one work at one lateral. Bid quantities are those the schedule pays by;
 * what must be bought for them is the material takeoff, kept apart.
 */
export function measureBidLines(
  work: WorkKind,
  lateral: Lateral,
  liner: Liner,
  basis: MeasuringBasis,
): readonly BidLine[] {
  const system = basis.program.units;
  switch (work) {
    case "inspect first":
      return [one("camera inspection", "")];
    case "clean and cut roots":
      return [alongHost("root cutting", lateral, basis)];
    case "joint grouting":
      return [alongHost("joint grouting", lateral, basis)];
    case "pipe bursting":
    case "open-cut replacement": {
      const lines = [alongHost(work, lateral, basis)];
      for (const { surface, area } of restoredSurfaces(work, lateral, basis)) {
        const hundredths = toHundredths(convert(area, "m2", measures.area[system]));
        lines.push({ item: "surface restoration", variant: surface, hundredths });
      }
      return lines;
    }
    case "new cleanout":
      return [newCleanout(lateral, basis)];
    case "grouting of running infiltration":
      return [one("grouting of running infiltration", "")];
    case "sectional liner":
      return sectionLines(placed(liner, "section"), system);
    case "full-length liner": {
      const variant = sizeLabel(placed(liner, "full length").nominalDiameter, system);
      const lines = [one("full-length liner", variant)];
      pushBeyondIncluded(lines, "additional liner length", variant, lateral, basis);
      pushReopened(lines, lateral, basis);
      return lines;
    }
    case "one-piece liner": {
      const piece = placed(liner, "one piece");
      const variant = sizeLabel(piece.nominalDiameter, system);
      const lines = [one("one-piece liner", `${variant}, main ${sizeLabel(piece.mainDiameter, system)}`)];
      pushBeyondIncluded(lines, "additional one-piece length", variant, lateral, basis);
      pushReopened(lines, lateral, basis);
      return lines;
    }
    case "connection liner":
      return [one("connection liner", sizeLabel(placed(liner, "connection").mainDiameter, system))];
    default:
      return work satisfies never;
  }
}

type MeasuringBasis = Pick<Basis, "program" | "bidItems" | "treatments" | "liners" | "assumptions">;

const one = (item: BidItemKey, variant: string): BidLine => ({ item, variant, hundredths: ONE });

const hostLengthOf = (lateral: Lateral, { program }: MeasuringBasis): number =>
  lengthHundredths(known(lateral.hostLength, "length", lateral).value, program.units);

const alongHost = (item: BidItemKey, lateral: Lateral, basis: MeasuringBasis): BidLine => ({
  item,
  variant: hostSize(lateral, basis),
  hundredths: hostLengthOf(lateral, basis),
});

function pushBeyondIncluded(
  lines: BidLine[],
  item: BidItemKey,
  variant: string,
  lateral: Lateral,
  basis: MeasuringBasis,
): void {
  const included = basis.bidItems.includedLength[basis.program.units] * ONE;
  const hundredths = hostLengthOf(lateral, basis) - included;
  if (hundredths > 0) lines.push({ item, variant, hundredths });
}

/** A liner over the whole length closes every branch; a section lies clear of them. */
function pushReopened(lines: BidLine[], { branches }: Lateral, { assumptions }: MeasuringBasis): void {
  const opened = branches?.value ?? assumptions.branches.value;
  if (opened > 0) lines.push({ item: "reinstatement", variant: "", hundredths: opened * ONE });
}

/** Sections are paid each, by size and stocked length, the short ones first. */
function sectionLines({ nominalDiameter, pieces }: SectionLiner, system: UnitSystem): readonly BidLine[] {
  const size = sizeLabel(nominalDiameter, system);
  const [first] = pieces;
  if (first !== undefined && pieces.length === 1)
    return [one("sectional liner", sizeByLength(size, lengthLabel(first.length, system)))];
  const ofLength = new Map<string, number>();
  for (const { length } of pieces.toSorted((a, b) => a.length - b.length)) {
    const variant = sizeByLength(size, lengthLabel(length, system));
    ofLength.set(variant, (ofLength.get(variant) ?? 0) + ONE);
  }
  return Array.from(ofLength, ([variant, hundredths]) => ({ item: "sectional liner", variant, hundredths }));
}

const sizeByLength = joinedOnce((size: string, length: string) => `${size} x ${length}`);

/** Length in whole hundredths of the unit bid lengths are paid in. */
export const lengthHundredths = (length: Metres, system: UnitSystem): number =>
  toHundredths(inBidLength[system](length));

/** Their units are looked up once. */
const inBidLength = bothSystems((system) => converter("m", measures.length[system]));
const inSizeUnit = bothSystems((system) => converter("mm", measures.diameter[system]));

function bothSystems<T>(of: (system: UnitSystem) => T): Readonly<Record<UnitSystem, T>> {
  return { us: of("us"), si: of("si") };
}

/** A nominal size as the trade says it: whole inches, or millimetres. 100 mm is 4 in. */
export function sizeLabel(diameter: Millimetres, system: UnitSystem): string {
  return labelOf(Math.round(inSizeUnit[system](diameter)), system);
}

/** Sizes are few: one text for all lines of a size is found as a price's key and as a word without being read again. */
const labels: Readonly<Record<UnitSystem, string[]>> = { us: [], si: [] };

function labelOf(size: number, system: UnitSystem): string {
  const known = labels[system][size];
  if (known !== undefined) return known;
  const label = `${size} ${units[measures.diameter[system]].spellings[0]}`;
  if (size >= 0 && size < MOST_LABELS) labels[system][size] = label;
  return label;
}

const MOST_LABELS = 4096;

/** A stocked length: whole feet, or metres to one decimal. */
function lengthLabel(length: Metres, system: UnitSystem): string {
  const shown = inBidLength[system](length);
  return system === "us" ? `${Math.round(shown)} ft` : `${shown.toFixed(1)} m`;
}

/** A cleanout is paid by its depth. */
function newCleanout(lateral: Lateral, basis: DepthBasis): BidLine {
  return { item: "new cleanout", variant: depthBand(lateral, basis), hundredths: ONE };
}

type DepthBasis = Pick<Basis, "program" | "bidItems" | "assumptions">;

/** Band of the depth to the invert at the building: cover over the crown, and the pipe's own diameter. */
export function depthBand(
  lateral: Pick<Lateral, "coverAtHouse" | "coverAtMain" | "hostDiameter">,
  { program, bidItems, assumptions }: DepthBasis,
): string {
  const { hostDiameter } = lateral;
  if (hostDiameter === null) return "depth not known";
  const { value: cover } = houseCover(lateral, assumptions);
  const unit = measures.length[program.units];
  const name = units[unit].spellings[0];
  // A hundredth of a foot or metre is as near as a depth is ever written.
  const depth = toHundredths(convert(cover + hostDiameter.value / 1000, "m", unit)) / ONE;
  const limits = bidItems.cleanoutDepths[program.units];
  const at = limits.findIndex((limit) => depth <= limit);
  if (at < 0) return `over ${limits.at(-1)} ${name}`;
  return `${at === 0 ? 0 : limits[at - 1]} to ${limits[at]} ${name}`;
}

/**
 * Size of the host for items paid by size that place no liner: the stocked size it passes for, or its own size where
 * it is no stocked one, so that a 10 in host is never paid as 8 in.
 */
function hostSize({ hostDiameter }: Lateral, { program, liners }: MeasuringBasis): string {
  if (hostDiameter === null) return "size not known";
  const { stockedDiameters } = liners["full-length"].system;
  const nominal = nominalFor(hostDiameter.value, stockedDiameters, NOMINAL_TOLERANCE);
  return sizeLabel(nominal ?? hostDiameter.value, program.units);
}

/** How far a host may be from a stocked size and still be paid as it. Ours; it joins 100 mm and 4 in, and keeps 4 in and 5 in apart. */
const NOMINAL_TOLERANCE = 0.1;

function placed<Kind extends NonNullable<Liner>["kind"]>(
  liner: Liner,
  kind: Kind,
): Extract<NonNullable<Liner>, { kind: Kind }> {
  if (liner?.kind !== kind)
    throw new RangeError(`measureBidLines: expected a ${kind} liner, got ${liner?.kind ?? "none"}`);
  return liner as Extract<NonNullable<Liner>, { kind: Kind }>;
}

function known<T>(value: T | null, what: string, lateral: Lateral): T {
  if (value === null)
    throw new RangeError(`measureBidLines: ${lateral.id} was judged eligible with no ${what}`);
  return value;
}
