import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { Day } from "../quantity/si.ts";
import type { Lateral } from "./lateral.ts";

/** Whether work on this lateral may be put on a calendar, and why. A plan of it may always be made. */
export type Permission =
  | { readonly kind: "not needed"; readonly because: "no work on the pipe" | "only the city's parts" }
  | { readonly kind: "holds"; readonly signed: Day; readonly expires: Day | null }
  | { readonly kind: "not signed" }
  | { readonly kind: "signed later"; readonly signed: Day; readonly asOf: Day }
  | { readonly kind: "expires before"; readonly expires: Day; readonly neededUntil: Day }
  | { readonly kind: "owner not stated"; readonly part: "lower" | "upper" };

/** The days work may take: from the day the plan is made for to the end of its season, or that day alone without one. */
export interface WorkDays {
  readonly asOf: Day;
  readonly seasonEnd: Day | null;
}

/** A camera from the main enters no property. */
const worksOnNoPart: ReadonlySet<TreatmentKind> = new Set(["inspect first", "leave and re-inspect"]);
/** Work from the main on the connection alone. */
const worksOnLowerOnly: ReadonlySet<TreatmentKind> = new Set(["connection liner"]);

const NO_WORK_ON_THE_PIPE: Permission = { kind: "not needed", because: "no work on the pipe" };

/**
 * Work on a part that is not the city's needs a permission signed by its owner on or before the day of the plan that holds
 * until the season ends. Every treatment is taken to work on both parts unless it is known not to: an owner that is not
 * stated leaves the answer open, and open is not yes.
 */
export function judgePermission(
  treatment: TreatmentKind,
  lateral: Pick<Lateral, "lowerOwner" | "upperOwner" | "permissionSigned" | "permissionExpires">,
  { asOf, seasonEnd }: WorkDays,
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
  const neededUntil = seasonEnd ?? asOf;
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
