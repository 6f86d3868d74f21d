import {
  centrePieces,
  type PlacingTask,
  placeSections,
  type Zone,
} from "../engineering/section-placement.ts";
import { type Metres, metres } from "../quantity/si.ts";
import type { TreatmentRules } from "../reference/treatment-rules.ts";
import type { Condition } from "./condition.ts";
import type { AlongPipe, SeenAlong } from "./defects-along.ts";
import type { LiningPrices } from "./lining-prices.ts";
import type { Reason } from "./reason.ts";
import { longestCovered, sectionLength } from "./section-length.ts";
import { countedFrom } from "./survey-ratings.ts";

type SectionRules = TreatmentRules["sectional"];

/** One section; `start` is null where nobody knows where the defect is. */
export interface SectionPiece {
  readonly start: Metres | null;
  readonly length: Metres;
}

/** The sections that this lateral would get, and what speaks for and against them. */
export interface Sections {
  /** Null where no set of sections covers what must be covered. */
  readonly pieces: readonly SectionPiece[] | null;
  /** What was least: the price, or the length where a section has no price; or one section of the rules' length. */
  readonly by: "price" | "length" | "assumed length";
  /** What the pieces cover; empty where places are not known. */
  readonly covered: readonly SeenAlong[];
  readonly because: readonly Reason[];
  readonly against: readonly Reason[];
}

/**
 * Places sections over all defects that ask for repair where the surveys say where they are; elsewhere one section of
 * the rules' length stands for one defect.
 *
 * @param prices null where no section can be designed in this host: then nothing is placed
 */
export function chooseSections(
  along: AlongPipe | null,
  { defects }: Pick<Condition, "defects">,
  { sectional, thresholds }: TreatmentRules,
  prices: LiningPrices | null,
): Sections {
  const covered = along?.whole === true ? asksForRepair(along, sectional) : [];
  if (along === null || prices === null || covered.length === 0)
    return oneSection(defects, sectional, thresholds.sectionalMostDefects);

  const unrepaired = covered.filter(({ kind }) => !sectional.repairs.includes(kind));
  if (unrepaired.length > 0)
    return none(
      covered,
      unrepaired.map(({ kind, from }) => ({ code: "no repair by a section", kind, at: from })),
    );

  const priced = sectional.stockedLengths.values.map((value) => {
    const length = metres(value);
    return { length, price: prices.section(length) };
  });
  const known = priced.flatMap(({ length, price }) => (price === null ? [] : [{ length, price }]));
  const byPrice = known.length === priced.length;
  const task: PlacingTask = {
    pipe: along.length,
    defects: covered.map((seen) => atLeast(seen, sectional.defectLength)),
    overlap: metres(sectional.overlapEachSide),
    stock: byPrice ? known : priced.map(({ length }) => ({ length, price: wholeMillimetres(length) })),
    zones: zonesOf(along, covered, sectional),
    lap: sectional.lap === null ? null : metres(sectional.lap),
    fullLengthPrice: byPrice ? prices.fullLength : null,
  };
  const placing = placeSections(task);
  if (placing.kind === "impossible") {
    // As much of it as is in the pipe: a point near an end has part of its assumed length beyond.
    const from = Math.max(0, placing.defect.from);
    const to = Math.min(along.length, placing.defect.to);
    return none(covered, [{ code: "defect cannot be covered", from, to, because: placing.because }]);
  }
  const pieces = centrePieces(task, placing.pieces);
  const length = pieces.reduce((sum, piece) => sum + piece.length, 0);
  return {
    pieces,
    by: byPrice ? "price" : "length",
    covered,
    because: [{ code: "sections placed", count: pieces.length, length, defects: covered.length }],
    against:
      placing.kind === "placed"
        ? []
        : [{ code: "sections cost no less", sections: placing.price, fullLength: placing.fullLengthPrice }],
  };
}

/** Structural defects that ask for more than watching, and others of a kind that a section repairs, as bad. */
function asksForRepair({ seen }: AlongPipe, { repairs }: SectionRules): readonly SeenAlong[] {
  const structural = seen.filter(({ mode }) => mode === "structural");
  const from = countedFrom(Math.max(0, ...structural.map(({ grade }) => grade ?? 0)));
  return seen.filter(
    ({ kind, mode, grade }) =>
      (grade ?? 0) >= from && (mode === "structural" || (mode === "operation" && repairs.includes(kind))),
  );
}

/** The rule where places are not known: one defect, its span if the surveys say it exactly. */
function oneSection(defects: Condition["defects"], rules: SectionRules, mostDefects: number): Sections {
  const span = defects?.span ?? null;
  const pieces = span === null ? usualPiece(rules) : onePiece(rules, span);
  return {
    pieces,
    by: "assumed length",
    covered: NOTHING_COVERED,
    because: ONE_DEFECT,
    against: againstOne(defects, pieces, rules, mostDefects),
  };
}

function onePiece(rules: SectionRules, span: Metres | null): Sections["pieces"] {
  const length = sectionLength(rules, span);
  return length === null ? null : [{ start: null, length }];
}

/** The piece of the rules asked about last: nearly all laterals have no more to say of their defects, and a program has one set of rules. */
let usual: { readonly rules: SectionRules; readonly pieces: Sections["pieces"] } | null = null;

function usualPiece(rules: SectionRules): Sections["pieces"] {
  if (usual?.rules !== rules) usual = { rules, pieces: onePiece(rules, null) };
  return usual.pieces;
}

/** What is the same for all laterals whose places are not known is one record for them all. */
const NOTHING_COVERED: readonly SeenAlong[] = [];
const ONE_DEFECT: readonly Reason[] = [{ code: "one defect" }];
const NUMBER_UNKNOWN: readonly Reason[] = [{ code: "number of defects unknown" }];
const NOTHING_AGAINST: readonly Reason[] = [];

function againstOne(
  defects: Condition["defects"],
  pieces: Sections["pieces"],
  rules: SectionRules,
  limit: number,
): readonly Reason[] {
  if (defects === null) return NUMBER_UNKNOWN;
  const { most, span } = defects;
  if (most > limit) return [{ code: "too many defects for sections", most, limit }];
  if (pieces === null && span !== null)
    return [{ code: "defect longer than a section", span, limit: longestCovered(rules) }];
  return NOTHING_AGAINST;
}

const none = (covered: readonly SeenAlong[], against: readonly Reason[]): Sections => ({
  pieces: null,
  by: "price",
  covered,
  because: [],
  against,
});

/** A defect is never taken for shorter than the rules' length; what is at a point has it around that point. */
function atLeast({ from, to }: SeenAlong, least: number): { from: Metres; to: Metres } {
  const wider = Math.max(0, least - (to - from)) / 2;
  return { from: metres(from - wider), to: metres(to + wider) };
}

/** Around what was seen, except what is itself covered: a section lies over its own defect. */
function zonesOf(
  { seen }: AlongPipe,
  covered: readonly SeenAlong[],
  { keepClear }: SectionRules,
): readonly Zone[] {
  const others = seen.filter((each) => !covered.includes(each));
  return others.flatMap(({ kind, from, to }) =>
    keepClear
      .filter(({ kinds }) => kinds.includes(kind))
      .map(({ name, bars, clearEachSide }) => ({
        from: metres(from - clearEachSide),
        to: metres(to + clearEachSide),
        bars,
        what: name,
      })),
  );
}

const MILLIMETRES_PER_METRE = 1000;
const wholeMillimetres = (length: Metres): number => Math.round(length * MILLIMETRES_PER_METRE);
