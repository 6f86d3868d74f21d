import type { TreatmentKind } from "../columns/plan-columns.ts";
import { quantities as measures, type UnitSystem } from "../quantity/measure.ts";
import { toHundredths } from "../quantity/money.ts";
import type { Metres, Millimetres } from "../quantity/si.ts";
import { convert, units } from "../quantity/units.ts";
import type { Basis } from "../reference/basis.ts";
import type { BidItemKey } from "../reference/bid-items.ts";
import type { Lateral } from "./lateral.ts";
import type { Liner } from "./liner.ts";
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
  variant === "" ? item : `${item} | ${variant}`;

const ONE = 100;

/**
 * What the contractor is paid for one treatment of one lateral. Bid quantities are those the schedule pays by;
 * what must be bought for them is the material takeoff, kept apart.
 */
export function measureBidLines(
  treatment: TreatmentKind,
  lateral: Lateral,
  liner: Liner,
  { program, bidItems, treatments, system, assumptions }: Basis,
): readonly BidLine[] {
  const size = (diameter: Millimetres) => sizeLabel(diameter, program.units);
  const length = () => lengthHundredths(known(lateral.hostLength, "length", lateral).value, program.units);
  switch (treatment) {
    case "leave and re-inspect":
      return [];
    case "inspect first":
      return [{ item: "camera inspection", variant: "", hundredths: ONE }];
    case "clean and cut roots":
      return [
        {
          item: "root cutting",
          variant: hostSize(lateral, system.stockedDiameters, size),
          hundredths: length(),
        },
        ...newCleanout(lateral),
      ];
    case "sectional liner": {
      const section = placed(liner, "section");
      const variant = `${size(section.nominalDiameter)} x ${lengthLabel(section.installedLength, program.units)}`;
      return [{ item: "sectional liner", variant, hundredths: ONE }, ...newCleanout(lateral)];
    }
    case "full-length liner": {
      const full = placed(liner, "full length");
      const variant = size(full.nominalDiameter);
      const extra = length() - bidItems.includedLength[program.units] * ONE;
      return [
        { item: "full-length liner", variant, hundredths: ONE },
        ...(extra > 0 ? [{ item: "additional liner length" as const, variant, hundredths: extra }] : []),
        ...newCleanout(lateral),
      ];
    }
    case "connection liner": {
      const piece = placed(liner, "connection");
      return [{ item: "connection liner", variant: size(piece.mainDiameter), hundredths: ONE }];
    }
    case "open-cut replacement": {
      const surface = orAssumed(lateral.surface, assumptions.surface).value;
      const area = known(lateral.hostLength, "length", lateral).value * treatments.openCut.trenchWidth;
      return [
        {
          item: "open-cut replacement",
          variant: hostSize(lateral, system.stockedDiameters, size),
          hundredths: length(),
        },
        {
          item: "surface restoration",
          variant: surface,
          hundredths: toHundredths(convert(area, "m2", measures.area[program.units])),
        },
      ];
    }
    default:
      return treatment satisfies never;
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

/** Work from the house needs a cleanout; unknown counts as none, so the bid holds one. */
const newCleanout = (lateral: Lateral): readonly BidLine[] =>
  lateral.cleanout?.value === true ? [] : [{ item: "new cleanout", variant: "", hundredths: ONE }];

/** The nearest stocked size of the host, for items paid by size that place no liner. */
function hostSize(
  lateral: Lateral,
  stocked: readonly number[],
  size: (diameter: Millimetres) => string,
): string {
  const diameter = lateral.hostDiameter?.value;
  if (diameter === undefined) return "size not known";
  const nearest = stocked.reduce((best, candidate) =>
    Math.abs(candidate - diameter) < Math.abs(best - diameter) ? candidate : best,
  );
  return size(nearest as Millimetres);
}

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
