import type { HostMaterial } from "../src/columns/lateral-columns.ts";
import type { Occurrences } from "../src/engineering/quick-rating.ts";
import { dayOf } from "../src/quantity/calendar.ts";
import { type Day, type Metres, metres } from "../src/quantity/si.ts";
import { connectionWear, gradeAt, jointSpacing, operationWear, structuralWear } from "./deterioration.ts";
import type { Random } from "./random.ts";

export const stopReasons = ["collapse", "root ball", "water level", "bend", "camera"] as const;
export type StopReason = (typeof stopReasons)[number];

/** One invented survey by camera. Grades 0 (no defect) to 5. */
export interface SampleSurvey {
  readonly on: Day;
  readonly minuteOfDay: number;
  readonly structural: Occurrences;
  readonly om: Occurrences;
  readonly structuralGrade: number;
  readonly omGrade: number;
  /** Null where the camera did not reach the main. */
  readonly connectionGrade: number | null;
  readonly surveyed: Metres;
  readonly complete: boolean;
  readonly stoppedBecause: StopReason | null;
  /** As a fraction; null where it was not measured. */
  readonly ovality: number | null;
  /** Launched from the main; otherwise from a cleanout. */
  readonly fromMain: boolean;
}

/** What decides how one lateral wears and what a camera finds. */
export interface Fate {
  readonly material: HostMaterial;
  readonly installYear: number;
  readonly length: number;
  readonly structuralFate: number;
  readonly operationFate: number;
  readonly connectionFate: number;
  /** The water table stands above the crown at the main. */
  readonly submerged: boolean;
  readonly hurry: number;
  readonly rootHurry: number;
  /** Roots were cut lately: the operation grade is two better. */
  readonly cleaned: boolean;
  /** Year from which the structural grade is one worse: ground moved, a root broke a joint. */
  readonly worsensIn: number | null;
}

/** @param when years, such as 2025.5 */
export function omGradeAt(fate: Fate, when: number): number {
  const grade = gradeAt(
    operationWear,
    fate.material,
    when - fate.installYear,
    fate.rootHurry,
    fate.operationFate,
  );
  return fate.cleaned ? Math.max(0, grade - 2) : grade;
}

export function structuralGradeAt(fate: Fate, when: number): number {
  const grade = gradeAt(
    structuralWear,
    fate.material,
    when - fate.installYear,
    fate.hurry,
    fate.structuralFate,
  );
  return fate.worsensIn !== null && when >= fate.worsensIn ? Math.min(5, grade + 1) : grade;
}

/** The lateral's surveys over the seasons, none to one a season. What was bad or cut short is looked at again sooner. */
export function surveyLateral(
  random: Random,
  fate: Fate,
  firstChance: readonly number[],
  seasons: readonly number[],
): readonly SampleSurvey[] {
  const surveys: SampleSurvey[] = [];
  for (let i = 0; i < seasons.length; i++) {
    const last = surveys.at(-1);
    const chance = last === undefined ? firstChance[i]! : chanceOfAnother(last);
    if (random.chance(chance)) surveys.push(surveyOnce(random, fate, seasons[i]!));
  }
  return surveys;
}

function chanceOfAnother(last: SampleSurvey): number {
  if (!last.complete) return 0.6;
  return Math.max(last.structuralGrade, last.omGrade) >= 4 ? 0.35 : 0.12;
}

function surveyOnce(random: Random, fate: Fate, season: number): SampleSurvey {
  // Seasons run from April to October; days 1 to 28 exist in every month.
  const month = 4 + random.below(7);
  const on = dayOf(season, month, 1 + random.below(28))!;
  const when = season + (month - 0.5) / 12;
  const minuteOfDay = 7 * 60 + 30 + 5 * random.below(90);

  const structuralTruth = structuralGradeAt(fate, when);
  const omTruth = omGradeAt(fate, when);
  const connectionTruth = gradeAt(
    connectionWear,
    fate.material,
    when - fate.installYear,
    fate.hurry,
    fate.connectionFate,
  );
  const stoppedBecause = stopFor(random, fate, structuralTruth, omTruth);
  const complete = stoppedBecause === null;
  const part = complete ? 1 : random.between(0.2, 0.85);
  const fromMain = random.chance(0.65);

  const structuralGrade = asSeen(random, structuralTruth, stoppedBecause === "collapse", complete);
  const omGrade = asSeen(random, omTruth, stoppedBecause === "root ball", complete);
  const seen = fate.length * part;
  return {
    on,
    minuteOfDay,
    structural: countStructural(random, structuralGrade, seen),
    om: countOperation(random, omGrade, seen, fate.material),
    structuralGrade,
    omGrade,
    connectionGrade: complete || fromMain ? connectionTruth : null,
    // Camera counters drift a little.
    surveyed: metres(Math.max(0.5, complete ? fate.length * random.between(0.985, 1.015) : seen)),
    complete,
    stoppedBecause,
    ovality: ovalityOf(random, fate, structuralGrade),
    fromMain,
  };
}

function stopFor(random: Random, fate: Fate, structural: number, om: number): StopReason | null {
  const draw = random.next();
  if (structural === 5 && draw < 0.3) return "collapse";
  if (om === 5 && draw < 0.35) return "root ball";
  if (om === 4 && draw < 0.14) return "root ball";
  const other = random.next();
  if (fate.submerged && other < 0.03) return "water level";
  if (other > 0.975) return "bend";
  return other > 0.965 ? "camera" : null;
}

/** Cameras and people err: now and then one grade too low, less often one too high. What stopped the camera was seen. */
function asSeen(random: Random, truth: number, certain: boolean, complete: boolean): number {
  const draw = random.next();
  if (certain || truth === 0) return truth;
  if (draw < (complete ? 0.06 : 0.3)) return truth - 1;
  return draw > 0.97 && truth < 5 ? truth + 1 : truth;
}

/** Defects by grade. A fifth of the pipes have their one bad place and little else: those a short liner can mend. */
function countStructural(random: Random, worst: number, length: number): Occurrences {
  const counts: [number, number, number, number, number] = [0, 0, 0, 0, 0];
  const isolated = random.chance(0.22);
  for (let grade = 1; grade <= worst; grade++) {
    const draw = random.next();
    const many = draw * draw * (1.5 + length / 6);
    if (grade === worst) counts[grade - 1] = isolated ? 1 : 1 + Math.floor(many);
    else if (!isolated || grade <= 2) counts[grade - 1] = Math.floor(many * 1.4);
  }
  return counts;
}

/** Defects by grade, at joints: long clay laterals have roots at many, which a quick rating writes as letters. */
function countOperation(random: Random, worst: number, length: number, material: HostMaterial): Occurrences {
  const counts: [number, number, number, number, number] = [0, 0, 0, 0, 0];
  const joints = 1 + length / jointSpacing[material];
  for (let grade = 1; grade <= worst; grade++) {
    const draw = random.next();
    const many = draw * draw * draw * joints * (grade <= 3 ? 0.6 : 0.15);
    counts[grade - 1] = (grade === worst ? 1 : 0) + Math.floor(many);
  }
  return counts;
}

/** Measured on few. Fibre pipe flattens, plastic pipe deflects, clay and iron stay round until they break. */
function ovalityOf(random: Random, fate: Fate, structural: number): number | null {
  const draw = random.next();
  const measured = random.next();
  const flattens = fate.material === "bituminous fibre";
  if (measured >= (flattens ? 0.5 : structural >= 4 ? 0.3 : 0.12)) return null;
  const round = flattens
    ? 0.03 + 0.02 * structural * draw
    : fate.material === "PVC"
      ? 0.035 * draw
      : 0.02 * draw;
  return round + (structural >= 4 ? 0.025 * draw : 0);
}
