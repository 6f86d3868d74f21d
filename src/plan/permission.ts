import type { TreatmentKind } from "../columns/plan-columns.ts";
import { dayFromIso } from "../quantity/calendar.ts";
import { onceFor } from "../quantity/once-for.ts";
import type { Day } from "../quantity/si.ts";
import type { SeasonCalendar } from "../reference/season-days.ts";
import type { Lateral } from "./lateral.ts";

/** Whether work on this lateral may be put on a calendar, and why. A plan of it may always be made. */
export type Permission =
  | { readonly kind: "not needed"; readonly because: "no work on the pipe" | "only the city's parts" }
  | { readonly kind: "holds"; readonly signed: Day; readonly expires: Day | null }
  | { readonly kind: "not signed" }
  | { readonly kind: "signed later"; readonly signed: Day; readonly asOf: Day }
  | { readonly kind: "expires before"; readonly expires: Day; readonly neededUntil: Day }
  | { readonly kind: "owner not stated"; readonly part: "lower" | "upper" };

type Permitting = "lowerOwner" | "upperOwner" | "permissionSigned" | "permissionExpires";
/** What a permission is judged by: of a lateral the values alone, whoever stated them. */
export type Permitted = {
  readonly [Key in Permitting]: Pick<NonNullable<Lateral[Key]>, "value"> | null;
};

/** The first day that work may take: the season's, or that of the plan where it has no season or is made within it. */
export interface WorkDays {
  readonly asOf: Day;
  /** The season's first day; null without a calendar. */
  readonly seasonStart: Day | null;
}

const startOf = onceFor(({ starts }: SeasonCalendar) => ({ day: dayFromIso(starts) }));

/** The season's first day; null without a calendar. Read once: every offer asks for it. */
export const seasonStartOf = (calendar: SeasonCalendar | null): Day | null =>
  calendar === null ? null : startOf(calendar).day;

/** A camera from the main enters no property. */
const worksOnNoPart: ReadonlySet<TreatmentKind> = new Set(["inspect first", "leave and re-inspect"]);
/** Work from the main on the connection alone. */
const worksOnLowerOnly: ReadonlySet<TreatmentKind> = new Set(["connection liner"]);

const NO_WORK_ON_THE_PIPE: Permission = { kind: "not needed", because: "no work on the pipe" };

/**
 * Work on a part that is not the city's needs a permission signed by its owner on or before the day of the plan that holds
 * on the first day of the season: one that ends within it may still be in time, which the days of the visits say. Every treatment is taken to work on both parts unless it is known not to: an owner that is not
 * stated leaves the answer open, and open is not yes.
 */
export function judgePermission(
  treatment: TreatmentKind,
  lateral: Permitted,
  { asOf, seasonStart }: WorkDays,
): Permission {
  if (worksOnNoPart.has(treatment)) return NO_WORK_ON_THE_PIPE;
  const { lowerOwner, upperOwner } = lateral;
  const onUpper = !worksOnLowerOnly.has(treatment);
  if (lowerOwner === null) return { kind: "owner not stated", part: "lower" };
  if (onUpper && upperOwner === null) return { kind: "owner not stated", part: "upper" };
  if (lowerOwner.value === "city" && (!onUpper || upperOwner?.value === "city"))
    return { kind: "not needed", because: "only the city's parts" };
  const { permissionSigned: signed, permissionExpires: expires } = lateral;
  if (signed === null) return { kind: "not signed" };
  if (signed.value > asOf) return { kind: "signed later", signed: signed.value, asOf };
  const neededUntil = seasonStart === null || seasonStart < asOf ? asOf : seasonStart;
  if (expires !== null && expires.value < neededUntil)
    return { kind: "expires before", expires: expires.value, neededUntil };
  return { kind: "holds", signed: signed.value, expires: expires?.value ?? null };
}

/** Null is not known. */
export function mayBeScheduled({ kind }: Permission): boolean | null {
  switch (kind) {
    case "not needed":
    case "holds":
      return true;
    case "not signed":
    case "signed later":
    case "expires before":
      return false;
    case "owner not stated":
      return null;
    default:
      return kind satisfies never;
  }
}
