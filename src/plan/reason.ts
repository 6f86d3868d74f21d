import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { WallRefusal } from "../engineering/liner-wall.ts";
import type { NothingThickEnough } from "../engineering/specified-wall.ts";
import { isoDate } from "../quantity/calendar.ts";
import { type NumberStyle, showNumber, showQuantity } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";

/** Why the plan says what it says: a code with its operands, worded only by {@link describeReason}. */
export type Reason =
  | { readonly code: "not inspected" }
  | { readonly code: "never surveyed whole" }
  | { readonly code: "survey after as-of"; readonly count: number }
  | { readonly code: "survey stopped"; readonly on: Day; readonly because: string }
  | { readonly code: "survey too old"; readonly years: number; readonly limit: number }
  | { readonly code: "survey stands" }
  | {
      readonly code: "grade carried forward";
      readonly what: string;
      readonly grade: number;
      readonly on: Day;
    }
  | { readonly code: "grade unknown"; readonly what: string }
  | { readonly code: "grade at least"; readonly what: string; readonly grade: number; readonly limit: number }
  | { readonly code: "grade below"; readonly what: string; readonly grade: number; readonly limit: number }
  | { readonly code: "grade above"; readonly what: string; readonly grade: number; readonly limit: number }
  | {
      readonly code: "likelihood from grade";
      readonly what: string;
      readonly grade: number;
      readonly points: number;
    }
  | { readonly code: "likelihood from age"; readonly age: number; readonly points: number }
  | { readonly code: "likelihood of unknown age"; readonly points: number }
  | { readonly code: "backups raise likelihood"; readonly count: number; readonly points: number }
  | {
      readonly code: "consequence";
      readonly building: string;
      readonly buildingPoints: number;
      readonly buildingWeight: number;
      readonly surface: string;
      readonly surfacePoints: number;
      readonly surfaceWeight: number;
    }
  | { readonly code: "leave"; readonly grade: number; readonly years: number }
  | { readonly code: "one defect" }
  | { readonly code: "number of defects unknown" }
  | { readonly code: "too many defects for sections"; readonly most: number; readonly limit: number }
  | { readonly code: "repair needed, cleaning is not enough" }
  | { readonly code: "lateral needs more than its connection"; readonly grade: number }
  | { readonly code: "collapse is dug up" }
  | { readonly code: "cannot be lined" }
  | { readonly code: "cross-bore not cleared"; readonly known: boolean }
  | { readonly code: "cross-bore found" }
  | { readonly code: "asbestos host" }
  | { readonly code: "host diameter unknown" }
  | { readonly code: "host length unknown" }
  | { readonly code: "main diameter unknown" }
  | { readonly code: "lateral wider than main"; readonly lateral: number; readonly main: number }
  | { readonly code: "no stocked diameter"; readonly diameter: number; readonly stocked: readonly number[] }
  | { readonly code: "longer than system"; readonly length: number; readonly limit: number }
  | { readonly code: "wall design refused"; readonly refusal: WallRefusal }
  | { readonly code: "no stocked wall"; readonly refusal: NothingThickEnough }
  | { readonly code: "nothing else allowed" }
  | { readonly code: "decided"; readonly because: string | null }
  | { readonly code: "decision not allowed"; readonly treatment: TreatmentKind };

/** A reason in words, with the program's units. One clause, no full stop. */
export function describeReason(reason: Reason, style: NumberStyle): string {
  switch (reason.code) {
    case "not inspected":
      return "never inspected";
    case "never surveyed whole":
      return "no survey covered the whole lateral";
    case "survey after as-of":
      return `${reason.count} survey(s) after the as-of date are not used`;
    case "survey stopped":
      return `the survey of ${isoDate(reason.on)} stopped (${reason.because === "" ? "no reason given" : reason.because}): re-inspect`;
    case "survey too old":
      return `the leading survey is ${reason.years.toFixed(1)} years old, over the limit of ${reason.limit}: re-inspect`;
    case "survey stands":
      return "the surveys answer what the plan needs";
    case "grade carried forward":
      return `${reason.what} grade ${reason.grade} carried forward from the incomplete survey of ${isoDate(reason.on)}`;
    case "grade unknown":
      return `${reason.what} grade not known`;
    case "grade at least":
      return `${reason.what} grade ${reason.grade}, the rule asks for ${reason.limit} or worse`;
    case "grade below":
      return `${reason.what} grade ${reason.grade}, better than the ${reason.limit} that asks for it`;
    case "grade above":
      return `${reason.what} grade ${reason.grade}, worse than ${reason.limit}, the worst that may be left`;
    case "likelihood from grade":
      return `${reason.what} grade ${reason.grade} gives likelihood ${reason.points}`;
    case "likelihood from age":
      return `not inspected: age ${reason.age} years gives likelihood ${reason.points}`;
    case "likelihood of unknown age":
      return `not inspected and of unknown age: likelihood ${reason.points}`;
    case "backups raise likelihood":
      return `${reason.count} backup(s) add ${reason.points} to the likelihood, up to 5`;
    case "consequence":
      return (
        `consequence ${reason.buildingWeight} × ${reason.buildingPoints} (${reason.building}) + ` +
        `${reason.surfaceWeight} × ${reason.surfacePoints} (${reason.surface})`
      );
    case "leave":
      return `worst grade ${reason.grade}: re-inspect in ${reason.years} year(s)`;
    case "one defect":
      return "one defect: a section covers it";
    case "number of defects unknown":
      return "no structural quick rating: the number of defects is not known";
    case "too many defects for sections":
      return Number.isFinite(reason.most)
        ? `up to ${reason.most} defects, sections are for ${reason.limit}`
        : `the quick rating hides how many defects there are, sections are for ${reason.limit}`;
    case "repair needed, cleaning is not enough":
      return "the pipe needs repair: cleaning is not enough";
    case "lateral needs more than its connection":
      return `structural grade ${reason.grade}: the lateral itself needs repair`;
    case "collapse is dug up":
      return "a camera could not pass a pipe of the worst grade: it is dug up, not inspected again";
    case "cannot be lined":
      return "needs repair and cannot be lined";
    case "cross-bore not cleared":
      return reason.known
        ? "not cleared of gas cross-bores: no cutting, lining or reopening"
        : "gas cross-bore status unknown, and unknown is unsafe: no cutting, lining or reopening";
    case "cross-bore found":
      return "a cross-bore was found: no work until the utility has removed it";
    case "asbestos host":
      return "asbestos-cement host: no cutting or lining until the regulator's rules are reviewed";
    case "host diameter unknown":
      return "host diameter not known: measure it";
    case "host length unknown":
      return "host length not known: measure it";
    case "main diameter unknown":
      return "diameter of the main not known";
    case "lateral wider than main":
      return `the lateral (${showQuantity(reason.lateral, "diameter", style)}) is not narrower than the main (${showQuantity(reason.main, "diameter", style)})`;
    case "no stocked diameter":
      return (
        `no liner is stocked near ${showQuantity(reason.diameter, "diameter", style)} ` +
        `(stocked: ${reason.stocked.map((size) => showNumber(size, "diameter", style)).join(", ")})`
      );
    case "longer than system":
      return `${showQuantity(reason.length, "length", style)} long, the system reaches ${showQuantity(reason.limit, "length", style)}`;
    case "wall design refused":
      return describeWallRefusal(reason.refusal, style);
    case "no stocked wall":
      return (
        `needs a wall of ${showQuantity(reason.refusal.needed, "wall", style)}, ` +
        `the thickest stocked is ${reason.refusal.largestStocked === null ? "none" : showQuantity(reason.refusal.largestStocked, "wall", style)}`
      );
    case "nothing else allowed":
      return "no treatment is allowed as things are known: look first";
    case "decided":
      return reason.because === null ? "decided by a person" : `decided by a person: ${reason.because}`;
    case "decision not allowed":
      return `"${reason.treatment}" was decided, but a rule forbids it: the plan's own choice stands`;
    default:
      return reason satisfies never;
  }
}

function describeWallRefusal(refusal: WallRefusal, style: NumberStyle): string {
  switch (refusal.because) {
    case "ovality-outside":
      return (
        `ovality ${showQuantity(refusal.ovality, "percent", style)} is outside 0 to ${showQuantity(refusal.limit, "percent", style)}: ` +
        "outside ASTM F1216 Appendix X1, reround or replace"
      );
    case "no-cover":
      return "no cover over the pipe: the load cannot be worked out";
    case "not-above-zero":
      return `${refusal.input} must be above zero, got ${refusal.value}`;
    case "head-below-zero":
      return `${refusal.input} must not be below zero, got ${refusal.value}`;
    case "heads-disagree":
      return "groundwater over the crown exceeds that over the invert";
    case "live-load-undefined":
      return `the live-load method says nothing at a cover of ${showQuantity(refusal.cover, "length", style)}`;
    case "no-bore-left":
      return `the wall asked for (${showQuantity(refusal.wall, "wall", style)}) would fill the pipe`;
    default:
      return refusal satisfies never;
  }
}
