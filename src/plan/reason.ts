import type { TreatmentKind } from "../columns/plan-columns.ts";
import type { WallRefusal } from "../engineering/liner-wall.ts";
import type { NotCovered } from "../engineering/section-placement.ts";
import type { NothingThickEnough } from "../engineering/specified-wall.ts";
import { yearsAfter } from "../quantity/calendar.ts";
import { showDate } from "../quantity/show-date.ts";
import { type NumberStyle, showNumber, showQuantity } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import type { ReadColumn } from "./recipe.ts";

/** Why the plan says what it says: a code with its operands, worded only by {@link describeReason}. */
export type Reason =
  | { readonly code: "not inspected" }
  | { readonly code: "survey after as-of"; readonly count: number }
  | { readonly code: "survey stopped"; readonly on: Day; readonly because: string }
  | { readonly code: "survey without grades"; readonly on: Day }
  | { readonly code: "survey too old"; readonly years: number; readonly limit: number }
  | {
      readonly code: "grade carried forward";
      readonly what: string;
      readonly grade: number;
      readonly on: Day;
    }
  | {
      readonly code: "grade of an older survey";
      readonly what: string;
      readonly grade: number;
      readonly on: Day;
    }
  | {
      readonly code: "grade of the same day";
      readonly what: string;
      readonly grade: number;
      readonly on: Day;
    }
  | { readonly code: "surveys joined"; readonly first: Day; readonly second: Day; readonly covered: number }
  | {
      readonly code: "observations disagree";
      readonly what: string;
      readonly on: Day;
      readonly stated: string;
      readonly observed: string;
    }
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
      readonly code: "score by recipe";
      readonly what: "likelihood" | "consequence" | "score";
      readonly text: string;
      readonly value: number | null;
      readonly inputs: readonly (ReadColumn & { readonly value: number | string })[];
    }
  | {
      readonly code: "consequence";
      readonly building: string;
      readonly buildingPoints: number;
      readonly buildingWeight: number;
      readonly surface: string;
      readonly surfacePoints: number;
      readonly surfaceWeight: number;
    }
  | { readonly code: "one defect" }
  | { readonly code: "number of defects unknown" }
  | { readonly code: "too many defects for sections"; readonly most: number; readonly limit: number }
  | { readonly code: "defect longer than a section"; readonly span: number; readonly limit: number }
  | {
      readonly code: "sections placed";
      readonly count: number;
      readonly length: number;
      readonly defects: number;
    }
  | { readonly code: "sections cost no less"; readonly sections: number; readonly fullLength: number }
  | { readonly code: "no repair by a section"; readonly kind: string; readonly at: number }
  | {
      readonly code: "defect cannot be covered";
      readonly from: number;
      readonly to: number;
      readonly because: NotCovered;
    }
  | { readonly code: "host diameter unknown" }
  | { readonly code: "main diameter unknown" }
  | { readonly code: "lateral wider than main"; readonly lateral: number; readonly main: number }
  | { readonly code: "no stocked diameter"; readonly diameter: number; readonly stocked: readonly number[] }
  | { readonly code: "longer than system"; readonly length: number; readonly limit: number }
  | {
      readonly code: "host outside system";
      readonly diameter: number;
      readonly least: number;
      readonly most: number;
    }
  | {
      readonly code: "main outside system";
      readonly diameter: number;
      readonly least: number;
      readonly most: number;
    }
  | { readonly code: "bend too sharp"; readonly degrees: number; readonly limit: number }
  | { readonly code: "sharpest bend unknown"; readonly bends: number }
  | { readonly code: "size change too great"; readonly change: number; readonly limit: number }
  | {
      readonly code: "effluent refused";
      readonly effluent: string;
      readonly resin: string;
      readonly because: string;
      /** Resins the table chooses for it. */
      readonly instead: readonly string[];
    }
  | { readonly code: "effluent not resisted"; readonly effluent: string; readonly system: string }
  | { readonly code: "effluent over rating"; readonly temperature: number; readonly limit: number }
  | { readonly code: "effluent over discharge limit"; readonly temperature: number; readonly limit: number }
  | { readonly code: "no long-term modulus"; readonly system: string; readonly temperature: number }
  | { readonly code: "rail load left to an engineer" }
  | { readonly code: "too oval"; readonly ovality: number; readonly limit: number }
  | {
      readonly code: "outside scope";
      readonly standard: string;
      readonly edition: string;
      readonly what: "host" | "main" | "liner length";
      readonly value: number;
      readonly least: number;
      readonly most: number;
    }
  | { readonly code: "host wall may be missing"; readonly grade: number }
  | { readonly code: "brim is no ring" }
  | { readonly code: "connection geometry"; readonly because: string }
  | {
      readonly code: "enhancement not on the safe side";
      readonly enhancement: number;
      readonly implied: number;
      readonly exceedsOrdered: boolean;
    }
  | {
      readonly code: "cure too hot for host";
      readonly method: string;
      readonly hottest: number;
      readonly host: string;
      readonly limit: number;
      /** Other ways the system cures by, which this host bears. */
      readonly others: readonly string[];
    }
  | { readonly code: "resin not cured so"; readonly method: string; readonly resin: string }
  | {
      readonly code: "wall too thick to cure";
      readonly method: string;
      readonly wall: number;
      readonly thickest: number;
    }
  | { readonly code: "wall design refused"; readonly refusal: WallRefusal }
  | { readonly code: "no stocked wall"; readonly refusal: NothingThickEnough }
  | { readonly code: "leave"; readonly grade: number; readonly years: number; readonly seen: Day }
  | {
      readonly code: "rule";
      readonly rule: string;
      /** With names in braces; null where it is not known and the rule has no words for that. */
      readonly text: string | null;
      readonly inputs: readonly (ReadColumn & { readonly value: number | string })[];
    }
  | { readonly code: "no system for use"; readonly use: string }
  | {
      readonly code: "main part not made";
      readonly part: string;
      readonly made: readonly string[];
      readonly system: string;
    }
  | { readonly code: "host length unknown" }
  | { readonly code: "no wall was asked for" }
  | { readonly code: "nothing else allowed" }
  | { readonly code: "cross-bore found" }
  /** The day from which the work may follow its main; null where season.mains_lined gives none in this season. */
  | { readonly code: "after its main"; readonly from: Day | null }
  | {
      readonly code: "least total worth";
      /** Cents: work and renewals, and what failures are expected to cost beside them. */
      readonly worth: number;
      /** Null where failures have no cost in this currency. */
      readonly loss: number | null;
      readonly runnerUp: { readonly treatment: TreatmentKind; readonly worth: number } | null;
    }
  | { readonly code: "order decides"; readonly because: "look first" | "not priced" }
  | {
      readonly code: "decided against own choice";
      readonly own: TreatmentKind;
      /** Cents that the decided one costs over the plan's own; null where either is not known. */
      readonly cost: number | null;
      readonly worth: number | null;
    }
  | { readonly code: "decided"; readonly because: string | null }
  | { readonly code: "decision not allowed"; readonly treatment: TreatmentKind };

/** Why a lateral of a season's plan has its treatment, where no person decided it. */
export const selectedForSeason = (season: string): string => `selected for season ${season}`;

/** A reason in words, with the program's units. One clause, no full stop. */
export function describeReason(reason: Reason, style: NumberStyle): string {
  switch (reason.code) {
    case "not inspected":
      return "never inspected";
    case "survey after as-of":
      return `${reason.count} survey(s) after the as-of date are not used`;
    case "survey stopped":
      return `the survey of ${showDate(reason.on, style.dates)} stopped (${reason.because === "" ? "no reason given" : reason.because}): re-inspect`;
    case "survey without grades":
      return `the survey of ${showDate(reason.on, style.dates)} does not lead: no grade can be made of it`;
    case "survey too old":
      return `the leading survey is ${reason.years.toFixed(1)} years old, over the limit of ${reason.limit}: re-inspect`;
    case "grade carried forward":
      return `${reason.what} grade ${reason.grade} carried forward from the incomplete survey of ${showDate(reason.on, style.dates)}`;
    case "grade of an older survey":
      return `${reason.what} grade ${reason.grade} of the survey of ${showDate(reason.on, style.dates)}: the leading one states none`;
    case "grade of the same day":
      return `${reason.what} grade ${reason.grade} from the other complete survey of ${showDate(reason.on, style.dates)}`;
    case "surveys joined":
      return (
        `the surveys of ${showDate(reason.first, style.dates)} and ${showDate(reason.second, style.dates)}, from opposite ends, together cover ` +
        `${showQuantity(reason.covered, "percent", style)} of the length: they count as one complete survey, with the worst of both`
      );
    case "observations disagree":
      return (
        `${reason.what} of ${showDate(reason.on, style.dates)}: ${reason.stated} stated, ${reason.observed} from the observations: ` +
        "the worse of both is used"
      );
    case "likelihood from grade":
      return `${reason.what} grade ${reason.grade} gives likelihood ${reason.points}`;
    case "likelihood from age":
      return `no structural grade: age ${reason.age} years gives likelihood ${reason.points}`;
    case "likelihood of unknown age":
      return `no structural grade and of unknown age: likelihood ${reason.points}`;
    case "backups raise likelihood":
      return `${reason.count} backup(s) add ${reason.points} to the likelihood, up to 5`;
    case "score by recipe":
      return describeOwnScore(reason, style);
    case "consequence":
      return (
        `consequence ${reason.buildingWeight} × ${reason.buildingPoints} (${reason.building}) + ` +
        `${reason.surfaceWeight} × ${reason.surfacePoints} (${reason.surface})`
      );
    case "one defect":
      return "one defect: a section covers it";
    case "number of defects unknown":
      return "no structural quick rating: the number of defects is not known";
    case "too many defects for sections":
      return Number.isFinite(reason.most)
        ? `up to ${reason.most} defects, sections are for ${reason.limit}`
        : `the quick rating hides how many defects there are, sections are for ${reason.limit}`;
    case "defect longer than a section":
      return `what must be covered is ${showQuantity(reason.span, "length", style)} long, the longest section covers ${showQuantity(reason.limit, "length", style)}`;
    case "sections placed":
      return `${reason.count} section(s), ${showQuantity(reason.length, "length", style)} in all, cover ${reason.defects} defect(s)`;
    case "sections cost no less":
      return `sections would cost ${showQuantity(reason.sections, "money", style)}, a full-length liner ${showQuantity(reason.fullLength, "money", style)}`;
    case "no repair by a section":
      return `${reason.kind} at ${showQuantity(reason.at, "length", style)}: a section does not repair it`;
    case "defect cannot be covered":
      return `the defect from ${showQuantity(reason.from, "length", style)} to ${showQuantity(reason.to, "length", style)} cannot be covered by sections: ${describeNotCovered(reason.because, style)}`;
    case "host diameter unknown":
      return "host diameter not known: measure it";
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
    case "host outside system":
      return `the host (${showQuantity(reason.diameter, "diameter", style)}) is outside the ${range(reason, "diameter", style)} the system serves`;
    case "main outside system":
      return `the main (${showQuantity(reason.diameter, "diameter", style)}) is outside the ${range(reason, "diameter", style)} the system serves`;
    case "bend too sharp":
      return `a bend of ${showQuantity(reason.degrees, "degrees", style)}, the system passes ${showQuantity(reason.limit, "degrees", style)}`;
    case "sharpest bend unknown":
      return `${reason.bends} bend(s), the sharpest not known: look before ordering`;
    case "size change too great":
      return `the host changes size by ${showQuantity(reason.change, "percent", style)}, the system bridges ${showQuantity(reason.limit, "percent", style)}`;
    case "effluent refused":
      return (
        `${reason.effluent} effluent: ${reason.resin} ${reason.because}` +
        (reason.instead.length === 0 ? "" : `; ${reason.instead.join(" or ")} is the usual resin`)
      );
    case "effluent not resisted":
      return `${reason.effluent} effluent is not among those that ${reason.system} resists`;
    case "effluent over rating":
      return `effluent at ${showQuantity(reason.temperature, "temperature", style)} is over the resin's rating of ${showQuantity(reason.limit, "temperature", style)}`;
    case "effluent over discharge limit":
      return `effluent at ${showQuantity(reason.temperature, "temperature", style)} is over the local discharge limit of ${showQuantity(reason.limit, "temperature", style)}: for the pretreatment office`;
    case "no long-term modulus":
      return (
        `no long-term modulus and strength of ${reason.system} at ${showQuantity(reason.temperature, "temperature", style)}: ` +
        "give measured ones; a temperature rating is not design data"
      );
    case "rail load left to an engineer":
      return "under a railway: the live load is left to an engineer, who must state it";
    case "too oval":
      return (
        `ovality ${showQuantity(reason.ovality, "percent", style)} is over the program's limit of ${showQuantity(reason.limit, "percent", style)}: ` +
        OVAL_REMEDY
      );
    case "outside scope": {
      const measure = reason.what === "liner length" ? "length" : "diameter";
      const limits =
        reason.least === 0
          ? `up to ${showQuantity(reason.most, measure, style)}`
          : range(reason, measure, style);
      return (
        `${reason.what} ${showQuantity(reason.value, measure, style)}: the scope of ${reason.standard} (${reason.edition}) ` +
        `says ${limits}; noted, other editions may differ`
      );
    }
    case "host wall may be missing":
      return (
        `structural grade ${reason.grade}: where the host's wall is missing, the equations' support all round is not there ` +
        "(from memory); an engineer must look at the survey"
      );
    case "brim is no ring":
      return "a brim in the main is no ring: the wall shown is that of a full circle, for planning; an engineer must design it";
    case "connection geometry":
      return `the liner does not fit the connection: ${reason.because}`;
    case "enhancement not on the safe side":
      return (
        `close-fit buckling by Glock implies K = ${reason.implied.toFixed(1)} at this DR, under the ${reason.enhancement} used: ` +
        `K is not on the safe side here${reason.exceedsOrdered ? ", and Glock asks for more than the wall ordered" : ""} ` +
        "(unpublished-check cross-check)"
      );
    case "cure too hot for host":
      return (
        `${reason.method} cure at ${showQuantity(reason.hottest, "temperature", style)} is over the ` +
        `${showQuantity(reason.limit, "temperature", style)} a host of ${reason.host} bears: ` +
        (reason.others.length === 0
          ? "choose a liner system with a cooler cure"
          : `choose ${reason.others.join(" or ")} cure`)
      );
    case "resin not cured so":
      return `no ${reason.method} schedule of ${reason.resin}: give the supplier's, or choose another cure`;
    case "wall too thick to cure":
      return (
        `no ${reason.method} schedule of a wall of ${showQuantity(reason.wall, "wall", style)}, they end at ` +
        `${showQuantity(reason.thickest, "wall", style)}: give the supplier's`
      );
    case "wall design refused":
      return describeWallRefusal(reason.refusal, style);
    case "no stocked wall":
      return (
        `needs a wall of ${showQuantity(reason.refusal.needed, "wall", style)}, ` +
        `the thickest stocked is ${reason.refusal.largestStocked === null ? "none" : showQuantity(reason.refusal.largestStocked, "wall", style)}`
      );
    case "leave":
      return `worst grade ${reason.grade}: look again in ${reason.years} year(s) after the survey of ${showDate(reason.seen, style.dates)}, by ${showDate(yearsAfter(reason.seen, reason.years), style.dates)}`;
    case "rule":
      return `${describeRule(reason, style)} (rule "${reason.rule}")`;
    case "no system for use":
      return `no crew is known to bring a ${reason.use} liner: name its system in program.json, criteria.liner_systems`;
    case "main part not made":
      return `a ${reason.part} is asked for in the main, and ${reason.system} makes only ${reason.made.join(" or ")}`;
    case "host length unknown":
      return "host length not known: measure it";
    case "no wall was asked for":
      return "the grades ask for no such liner, so no wall was designed: decide it, or a worse grade";
    case "least total worth": {
      const money = (amount: number) => showQuantity(amount, "money", style);
      const next = reason.runnerUp;
      return (
        `least over the horizon: ${money(reason.worth)}, ` +
        (reason.loss === null
          ? "failures not counted: they have no cost in this currency"
          : `of which failures are still expected to cost ${money(reason.loss)}`) +
        (next === null ? "" : `; next ${next.treatment}, ${money(next.worth - reason.worth)} more`)
      );
    }
    case "order decides":
      return reason.because === "look first"
        ? "what must be looked at first is not weighed against work"
        : "an offer has an item without a price: the program's order decides";
    case "decided against own choice": {
      const more = (amount: number | null, what: string) =>
        amount === null
          ? []
          : [`${showQuantity(Math.abs(amount), "money", style)} ${amount < 0 ? "less" : "more"} ${what}`];
      const parts = [...more(reason.cost, "now"), ...more(reason.worth, "over the horizon")];
      return `the plan's own choice is ${reason.own}${parts.length === 0 ? "" : `: the decision costs ${parts.join(", ")}`}`;
    }
    case "after its main":
      return reason.from === null
        ? "its main is to be lined first, and season.mains_lined gives no day in this season: it waits for that"
        : `its main is to be lined first: it may follow from ${showDate(reason.from, style.dates)} (season.mains_lined)`;
    case "cross-bore found":
      return "a cross-bore was found: tell the utility's owner now; no work and no cutting until it is made safe";
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

/** The rule's own words with the values in place; where it is not known, what is missing. */
function describeRule(
  { text, inputs }: Extract<Reason, { readonly code: "rule" }>,
  style: NumberStyle,
): string {
  const missing = inputs.filter(({ value }) => value === "" || Number.isNaN(value));
  if (text === null) return `not known: ${missing.map(({ key }) => key).join(", ")}`;
  return inputs.reduce((words, { key, value, measure }) => {
    const shown =
      typeof value === "string"
        ? value
        : Number.isNaN(value)
          ? "not known"
          : showQuantity(value, measure, style);
    return words.replaceAll(`{${key}}`, shown);
  }, text);
}

const OVAL_REMEDY =
  "reround it and survey it again, have an engineer design by another method, or replace it";

const range = (
  { least, most }: { readonly least: number; readonly most: number },
  measure: "diameter" | "length",
  style: NumberStyle,
): string => `${showNumber(least, measure, style)} to ${showQuantity(most, measure, style)}`;

function describeWallRefusal(refusal: WallRefusal, style: NumberStyle): string {
  switch (refusal.because) {
    case "ovality-outside":
      return (
        `ovality ${showQuantity(refusal.ovality, "percent", style)} is outside 0 to ${showQuantity(refusal.limit, "percent", style)}: ` +
        `outside ASTM F1216 Appendix X1, ${OVAL_REMEDY}`
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

/** `score = likelihood * consequence = 12.80, with likelihood 4.00, consequence 3.20`. */
function describeOwnScore(
  { what, text, value, inputs }: Extract<Reason, { readonly code: "score by recipe" }>,
  style: NumberStyle,
): string {
  const shown = inputs.map((input) => {
    const words =
      typeof input.value === "string" ? input.value : showQuantity(input.value, input.measure, style);
    return `${input.key} ${words === "" ? "missing" : words}`;
  });
  const result = value === null ? "missing" : showNumber(value, "points", style);
  return `${what} = ${text} = ${result}${shown.length === 0 ? "" : `, with ${shown.join(", ")}`}`;
}

function describeNotCovered(because: NotCovered, style: NumberStyle): string {
  switch (because.kind) {
    case "too near the end":
      return `nearer an end of the pipe than the overlap it needs`;
    case "longer than any piece":
      return `the longest section covers ${showQuantity(because.longest, "length", style)}`;
    case "in the way":
      return `${because.what} in the way`;
    case "too near another":
      return "too near another defect for a section each, too far for one section over both";
    default:
      return because satisfies never;
  }
}
