import type { Owner } from "../columns/lateral-columns.ts";
import type { TreatmentKind } from "../columns/plan-columns.ts";
import { judgePermission } from "../plan/permission.ts";
import { type Day, day } from "../quantity/si.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import type { PackedDay } from "./day-packing.ts";

/** The last day on which a treatment of a row may be worked on; null where it needs no permission, or one without an end. */
export function permissionEndAt(laterals: Table, row: number, treatment: string): Day | null {
  const expires = numberAt(laterals, "permission_expires", row);
  if (Number.isNaN(expires)) return null;
  const ends = day(expires);
  const ownerOf = (key: "lower_owner" | "upper_owner") => {
    const owner = textAt(laterals, key, row);
    return owner === "" ? null : { value: owner as Owner };
  };
  const permission = judgePermission(
    treatment as TreatmentKind,
    {
      lowerOwner: ownerOf("lower_owner"),
      upperOwner: ownerOf("upper_owner"),
      permissionSigned: null,
      permissionExpires: { value: ends },
    },
    { asOf: ends, seasonStart: null },
  );
  return permission.kind === "not needed" ? null : ends;
}

/**
 * The days of a crew in a district with those first on which a permission ends soonest, each with the day it does. In which order days of one length are worked changes
 * neither how many there are nor when the last is done, so a selection, which counts days, is not touched by it.
 */
export function soonestFirst(
  days: readonly PackedDay[],
  endOf: (row: number) => Day | null,
): readonly PackedDay[] {
  const soonest = new Map(
    days.map((each) => [each, Math.min(...each.rows.map((row) => endOf(row) ?? Number.POSITIVE_INFINITY))]),
  );
  // Not by difference: of two without an end it would be no number.
  return [...days]
    .sort((a, b) => {
      const [one, other] = [soonest.get(a)!, soonest.get(b)!];
      return one < other ? -1 : one > other ? 1 : 0;
    })
    .map((each) => {
      const ends = soonest.get(each)!;
      return ends === Number.POSITIVE_INFINITY ? each : { ...each, ends: day(ends) };
    });
}
