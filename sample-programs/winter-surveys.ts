import type { Occurrences } from "../src/engineering/quick-rating.ts";
import { dayOf } from "../src/quantity/calendar.ts";
import { metres } from "../src/quantity/si.ts";
import { foundCity, type SampleLateral } from "./city-model.ts";
import { csvRow } from "./csv-row.ts";
import { Random } from "./random.ts";
import type { SampleSurvey } from "./survey-model.ts";
import { cityForms, citySpecs, trackedSamples } from "./write-city.ts";

/** Where the file lies: outside the sample program, because taking it in is what it is for. */
export const WINTER_FILE = "quennock-falls-winter/inspections-2026-winter.csv";

const WINTER_STREAM = 5;
/** One lateral in sixteen: some two dozen surveys, few enough to read on one screen. */
const SHARE = 1 / 16;
/** The file's own numbers begin here, far from those of the seasons before. */
const FIRST_ORDINAL = 1001;

/**
 * A small file of surveys made in January and February 2026, after the seasons of the sample and before the day it is
 * planned for: laterals never seen, and some seen again, a few of them worse than last time.
 */
export function winterSurveys(): string {
  const { style, laterals, seed } = trackedSamples.us.order;
  const city = foundCity(citySpecs[style], laterals, seed);
  const { inspections: form, file, lineEnd } = cityForms[style];
  const line = (cells: readonly string[]) => csvRow(cells, file.delimiter, lineEnd);
  const rows = [line(form.headings.map(({ heading }) => heading))];
  const random = new Random();
  for (let index = 0; index < city.laterals; index++) {
    random.restart(seed, WINTER_STREAM, index);
    if (!random.chance(SHARE)) continue;
    const lateral = city.lateralAt(index);
    const survey = winterSurvey(random, lateral);
    rows.push(line(form.write({ lateral, survey, ordinal: FIRST_ORDINAL + rows.length - 1 })));
  }
  return rows.join("");
}

/** Grades are invented: what was seen before or a grade worse, and any grade where nothing was. */
function winterSurvey(random: Random, lateral: SampleLateral): SampleSurvey {
  const last = lateral.surveys.at(-1);
  const worse = (grade: number) => Math.min(5, grade + (random.chance(0.5) ? 1 : 0));
  const structuralGrade = last === undefined ? random.below(6) : worse(last.structuralGrade);
  const omGrade = last === undefined ? random.below(6) : worse(last.omGrade);
  const on = dayOf(2026, 1 + random.below(2), 5 + random.below(20));
  if (on === null) throw new RangeError("winterSurvey: no such day");
  return {
    on,
    minuteOfDay: 8 * 60 + 5 * random.below(80),
    structural: onePlace(structuralGrade),
    om: onePlace(omGrade),
    structuralGrade,
    omGrade,
    connectionGrade: 1 + random.below(2),
    surveyed: metres(lateral.length * random.between(0.985, 1.015)),
    complete: true,
    stoppedBecause: null,
    ovality: null,
    fromMain: random.chance(0.65),
  };
}

/** One place of the worst grade and nothing else. */
const onePlace = (worst: number): Occurrences =>
  [1, 2, 3, 4, 5].map((grade) => (grade === worst ? 1 : 0)) as unknown as Occurrences;
