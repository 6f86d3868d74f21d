import { isoDate } from "../quantity/calendar.ts";
import { type NumberStyle, showNumber, showQuantity } from "../quantity/show-quantity.ts";
import { bidLineKey } from "./bid-lines.ts";
import type { CostSplit } from "./cost-split.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { Lateral } from "./lateral.ts";
import { mayBeScheduled, type Permission } from "./permission.ts";
import type { Offer, PlannedLateral } from "./plan-lateral.ts";

/** Whose the lateral is, who pays what, and whether the work may be scheduled. */
export function explainOwnership(
  { lateral, chosen }: PlannedLateral,
  style: NumberStyle,
): readonly ExplainedLine[] {
  const part = (
    label: string,
    owner: PlannedLateral["lateral"]["lowerOwner"],
    length: PlannedLateral["lateral"]["lowerLength"],
  ) =>
    line(
      label,
      `${owner?.value ?? "owner not stated"}, ${length === null ? "length not stated" : showQuantity(length.value, "length", style)}`,
      owner?.origin ?? null,
    );
  const { cityShare, propertyLineCleanout } = lateral;
  return [
    part("lower part", lateral.lowerOwner, lateral.lowerLength),
    part("upper part", lateral.upperOwner, lateral.upperLength),
    cityShare === null
      ? line("city pays of other parts", "not stated")
      : line("city pays of other parts", showQuantity(cityShare.value, "percent", style), cityShare.origin),
    propertyLineCleanout === null
      ? line("cleanout at property line", "not stated")
      : line(
          "cleanout at property line",
          propertyLineCleanout.value ? "yes" : "no",
          propertyLineCleanout.origin,
        ),
    ...explainSplit(chosen.split, style),
    explainPermission(chosen, lateral),
  ];
}

function explainSplit(split: CostSplit, style: NumberStyle): ExplainedLine[] {
  if (split.kind === "not stated") return [line("city and owner", `not divided: ${split.what} not stated`)];
  const money = (amount: number | null) =>
    amount === null ? "not priced" : showQuantity(amount, "money", style);
  const quantity = (hundredths: number) => showNumber(hundredths / 100, "points", style);
  return [
    ...split.lines.map(({ line: of, cityHundredths, ownerHundredths, cityCents, ownerCents }) =>
      line(
        bidLineKey(of),
        `city ${quantity(cityHundredths)} (${money(cityCents)}), owner ${quantity(ownerHundredths)} (${money(ownerCents)})`,
      ),
    ),
    line(
      "city and owner",
      `${money(split.city)} and ${money(split.owner)}`,
      null,
      "by the lengths of the parts; the city's part of each line is rounded half up, the owner's is the rest",
    ),
  ];
}

/** What the line is called that says whether work on a lateral may be put on a calendar. */
export const MAY_BE_SCHEDULED = "may be scheduled";

function explainPermission({ permission }: Offer, { crossBore }: Lateral): ExplainedLine {
  if (crossBore?.value === "found")
    return line(
      MAY_BE_SCHEDULED,
      "no: a cross-bore was found that is not made safe, and nobody is sent there",
    );
  const may = mayBeScheduled(permission);
  return line(
    MAY_BE_SCHEDULED,
    `${may === null ? "not known" : may ? "yes" : "no"}: ${describePermission(permission)}`,
  );
}

/** A permission in words: one clause, no full stop. */
export function describePermission(permission: Permission): string {
  switch (permission.kind) {
    case "not needed":
      return permission.because === "no work on the pipe"
        ? "no work on the pipe, no permission needed"
        : "the work is on the city's own parts";
    case "holds":
      return `permission signed ${isoDate(permission.signed)}, ${permission.expires === null ? "no end" : `holds to ${isoDate(permission.expires)}`}`;
    case "not signed":
      return "work on a part that is not the city's, and no permission signed: planned, not scheduled";
    case "signed later":
      return `permission signed ${isoDate(permission.signed)}, after the as-of date ${isoDate(permission.asOf)}`;
    case "expires before":
      return `permission ends ${isoDate(permission.expires)}, before ${isoDate(permission.neededUntil)}: renew it`;
    case "owner not stated":
      return `owner of the ${permission.part} part not stated: state it, or whose permission is needed is not known`;
    default:
      return permission satisfies never;
  }
}
