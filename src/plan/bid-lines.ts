import { nominalFor } from "../engineering/nominal-size.ts";
import { joinedOnce } from "../quantity/joined-once.ts";
import { quantities as measures, type UnitSystem } from "../quantity/measure.ts";
import { toHundredths } from "../quantity/money.ts";
import type { Metres, Millimetres } from "../quantity/si.ts";
import { convert, units } from "../quantity/units.ts";
import type { Basis } from "../reference/basis.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Lateral } from "./lateral.ts";
import type { Liner } from "./liner.ts";
import { restoredSurfaces } from "./restored-surface.ts";
import { orAssumed } from "./stated.ts";

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
  { program, bidItems, treatments, liners, assumptions }: Basis,
): readonly BidLine[] {
  const { stockedDiameters } = liners["full-length"].system;
  const size = (diameter: Millimetres) => sizeLabel(diameter, program.units);
  const length = () => lengthHundredths(known(lateral.hostLength, "length", lateral).value, program.units);
  const byHost = (item: BidItemKey): BidLine => ({
    item,
    variant: hostSize(lateral, stockedDiameters, size),
    hundredths: length(),
  });
  const beyondIncluded = (item: BidItemKey, variant: string): readonly BidLine[] => {
    const extra = length() - bidItems.includedLength[program.units] * ONE;
    return extra > 0 ? [{ item, variant, hundredths: extra }] : [];
  };
  const restored = (): readonly BidLine[] =>
    restoredSurfaces(work, lateral, { treatments, assumptions }).map(({ surface, area }) => ({
      item: "surface restoration",
      variant: surface,
      hundredths: toHundredths(convert(area, "m2", measures.area[program.units])),
    }));
  /** A liner over the whole length closes every branch; a section lies clear of them. */
  const reopened = (): readonly BidLine[] => {
    const branches = orAssumed(lateral.branches, assumptions.branches).value;
    return branches === 0 ? [] : [{ item: "reinstatement", variant: "", hundredths: branches * ONE }];
  };
  switch (work) {
    case "inspect first":
      return [{ item: "camera inspection", variant: "", hundredths: ONE }];
    case "clean and cut roots":
      return [byHost("root cutting")];
    case "joint grouting":
      return [byHost("joint grouting")];
    case "pipe bursting":
      return [byHost("pipe bursting"), ...restored()];
    case "new cleanout":
      return [newCleanout(lateral, { program, bidItems, assumptions })];
    case "grouting of running infiltration":
      return [{ item: "grouting of running infiltration", variant: "", hundredths: ONE }];
    case "sectional liner": {
      const section = placed(liner, "section");
      const ofLength = new Map<string, number>();
      for (const { length } of section.pieces.toSorted((a, b) => a.length - b.length)) {
        const variant = `${size(section.nominalDiameter)} x ${lengthLabel(length, program.units)}`;
        ofLength.set(variant, (ofLength.get(variant) ?? 0) + ONE);
      }
      const lines = [...ofLength].map(
        ([variant, hundredths]): BidLine => ({ item: "sectional liner", variant, hundredths }),
      );
      return lines;
    }
    case "full-length liner": {
      const variant = size(placed(liner, "full length").nominalDiameter);
      return [
        { item: "full-length liner", variant, hundredths: ONE },
        ...beyondIncluded("additional liner length", variant),
        ...reopened(),
      ];
    }
    case "one-piece liner": {
      const piece = placed(liner, "one piece");
      const variant = size(piece.nominalDiameter);
      return [
        {
          item: "one-piece liner",
          variant: `${variant}, main ${size(piece.mainDiameter)}`,
          hundredths: ONE,
        },
        ...beyondIncluded("additional one-piece length", variant),
        ...reopened(),
      ];
    }
    case "connection liner": {
      const piece = placed(liner, "connection");
      return [{ item: "connection liner", variant: size(piece.mainDiameter), hundredths: ONE }];
    }
    case "open-cut replacement":
      return [byHost("open-cut replacement"), ...restored()];
    default:
      return work satisfies never;
  }
}

/** Length in whole hundredths of the unit bid lengths are paid in. */
export const lengthHundredths = (length: Metres, system: UnitSystem): number =>
  toHundredths(convert(length, "m", measures.length[system]));

/** A nominal size as the trade says it: whole inches, or millimetres. 100 mm is 4 in. */
export function sizeLabel(diameter: Millimetres, system: UnitSystem): string {
  const unit = measures.diameter[system];
  return `${Math.round(convert(diameter, "mm", unit))} ${units[unit].spellings[0]}`;
}

/** A stocked length: whole feet, or metres to one decimal. */
function lengthLabel(length: Metres, system: UnitSystem): string {
  const shown = convert(length, "m", measures.length[system]);
  return system === "us" ? `${Math.round(shown)} ft` : `${shown.toFixed(1)} m`;
}

/** A cleanout is paid by its depth. */
function newCleanout(lateral: Lateral, basis: DepthBasis): BidLine {
  return { item: "new cleanout", variant: depthBand(lateral, basis), hundredths: ONE };
}

type DepthBasis = Pick<Basis, "program" | "bidItems" | "assumptions">;

/** Band of the depth to the invert at the building: cover over the crown, and the pipe's own diameter. */
export function depthBand(
  { coverAtHouse, hostDiameter }: Pick<Lateral, "coverAtHouse" | "hostDiameter">,
  { program, bidItems, assumptions }: DepthBasis,
): string {
  if (hostDiameter === null) return "depth not known";
  const cover = coverAtHouse?.value ?? assumptions.cover.value;
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
function hostSize(
  { hostDiameter }: Lateral,
  stocked: readonly number[],
  size: (diameter: Millimetres) => string,
): string {
  if (hostDiameter === null) return "size not known";
  return size(nominalFor(hostDiameter.value, stocked, NOMINAL_TOLERANCE) ?? hostDiameter.value);
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
