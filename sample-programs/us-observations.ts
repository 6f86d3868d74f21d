import type { HostMaterial, ObservationKey } from "../src/columns/lateral-columns.ts";
import type { Occurrences } from "../src/engineering/quick-rating.ts";
import { isoDate } from "../src/quantity/calendar.ts";
import { toShown } from "../src/quantity/measure.ts";
import type { Heading, SurveyRow } from "./city-form.ts";
import { decimal, padded } from "./csv-row.ts";
import type { Random } from "./random.ts";
import { usLateralId } from "./us-rows.ts";

/** Headings of the camera contractor's list of what was seen. */
export const usObservationHeadings: readonly Heading<ObservationKey>[] = [
  { heading: "OBS_ID" },
  { heading: "LATERAL_REF", key: "lateral" },
  { heading: "INSP_DATE", key: "inspected_on" },
  { heading: "DIRECTION", key: "direction" },
  { heading: "DIST_FROM", key: "from", unit: "ft" },
  { heading: "DIST_TO", key: "to", unit: "ft" },
  { heading: "CODE", key: "kind" },
  { heading: "GRADE", key: "grade" },
  { heading: "CLOCK", key: "clock" },
  { heading: "REMARK", key: "note" },
];

/** The invented city's own codes, of nobody's code book; they go into program.json. */
const CODES = {
  crack: ["Q11"],
  fracture: ["Q12", "Q12L"],
  broken: ["Q13"],
  hole: ["Q14"],
  collapse: ["Q15"],
  deformed: ["Q16"],
  "missing wall": ["Q17"],
  "joint offset": ["Q21"],
  "joint open": ["Q22"],
  "root fine": ["Q31"],
  "root mass": ["Q32", "Q33"],
  deposit: ["Q41"],
  grease: ["Q42"],
  "infiltration seep": ["Q51"],
  "infiltration run": ["Q52"],
  sag: ["Q61"],
  start: ["Q90"],
  end: ["Q99"],
} as const;
type Kind = keyof typeof CODES;
export const usKinds: Readonly<Record<string, readonly string[]>> = CODES;

/** Kinds of a structural defect by its grade, in pipe that breaks and in pipe that bends. */
const BRITTLE: readonly (readonly Kind[])[] = [
  ["crack"],
  ["crack", "joint offset"],
  ["fracture", "joint offset", "joint open"],
  ["broken", "hole", "fracture"],
  ["missing wall", "hole", "collapse"],
];
const PLASTIC: readonly (readonly Kind[])[] = [
  ["deformed"],
  ["deformed", "joint offset"],
  ["deformed", "joint open"],
  ["deformed", "hole"],
  ["collapse"],
];
const OPERATION: readonly (readonly Kind[])[] = [
  ["deposit"],
  ["root fine", "deposit", "infiltration seep"],
  ["root fine", "grease", "sag"],
  ["root mass", "infiltration run"],
  ["root mass"],
];
const BENDS = new Set<HostMaterial>(["PVC", "ABS", "polyethylene", "bituminous fibre"]);
/** Kinds that run along the pipe. */
const RUNS: ReadonlySet<Kind> = new Set<Kind>(["crack", "fracture", "grease", "deposit", "sag"]);

/** A continuous defect counts once for so many feet: the rule of the program, see continuousOccurrences. */
const FEET_AN_OCCURRENCE = 5;

/** One survey has a code that the program's map lacks, as files of several years do. */
const UNMAPPED = { ordinal: 77, code: "Q70" } as const;

interface Seen {
  readonly from: number;
  readonly to: number | null;
  readonly code: string;
  readonly grade: string;
  readonly clock: string;
  readonly remark: string;
}

/** The rows of one survey: exactly the occurrences that its quick ratings were written from, in order of distance. */
export function writeUsObservations({ lateral, survey, ordinal }: SurveyRow, random: Random): string[][] {
  const reach = Math.max(1, toShown(survey.surveyed, "length", "us") - 0.5);
  const structural = BENDS.has(lateral.material) ? PLASTIC : BRITTLE;
  const seen = [
    { from: 0, to: null, code: CODES.start[0], grade: "", clock: "", remark: "" },
    ...defects(random, survey.structural, structural, reach),
    ...defects(random, survey.om, OPERATION, reach),
    ...(ordinal === UNMAPPED.ordinal
      ? [{ from: reach, to: null, code: UNMAPPED.code, grade: "", clock: "", remark: "see video" }]
      : []),
    ...(survey.complete
      ? []
      : [{ from: reach, to: null, code: CODES.end[0], grade: "", clock: "", remark: "survey broken off" }]),
  ].toSorted((a, b) => a.from - b.from);
  return seen.map(({ from, to, code, grade, clock, remark }, i) => [
    `${padded(ordinal, 6)}-${padded(i + 1, 3)}`,
    usLateralId(lateral.index),
    isoDate(survey.on),
    survey.fromMain ? "upstream" : "downstream",
    decimal(from, 1, "."),
    to === null ? "" : decimal(to, 1, "."),
    code,
    grade,
    clock,
    remark,
  ]);
}

function defects(
  random: Random,
  counts: Occurrences,
  kinds: readonly (readonly Kind[])[],
  reach: number,
): Seen[] {
  const seen: Seen[] = [];
  for (const [i, count] of counts.entries()) {
    let left = count;
    while (left > 0) {
      const kind = random.pick(kinds[i]!);
      const many = Math.min(left, 2 + random.below(3));
      const length = many * FEET_AN_OCCURRENCE;
      const runs = random.chance(0.3) && RUNS.has(kind) && many > 1 && length < reach;
      const from = Math.round(random.between(0, runs ? reach - length : reach) * 10) / 10;
      seen.push({
        from,
        to: runs ? from + length : null,
        code: random.pick(CODES[kind]),
        grade: String(i + 1),
        clock: clockOf(random),
        remark: "",
      });
      left -= runs ? many : 1;
    }
  }
  return seen;
}

function clockOf(random: Random): string {
  const hour = 1 + random.below(12);
  return random.chance(0.3) ? `${hour} to ${1 + ((hour + 2) % 12)}` : String(hour);
}
