import type { CrewKind } from "../columns/plan-columns.ts";
import { type Network, type Schedule, scheduleNetwork, wireNetwork } from "../engineering/critical-path.ts";
import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkStep, WorkSteps } from "../reference/work-steps.ts";
import type { WorkKind } from "../reference/works.ts";
import { minutesOf, type TimedWork } from "./step-minutes.ts";

/** One step at the lateral, in whole minutes. */
export interface TimedStep {
  readonly step: string;
  readonly position: WorkStep["position"];
  readonly crew: CrewKind;
  readonly people: number;
  readonly minutes: Minutes;
  /** From the crew's set-up to the earliest the step can begin. */
  readonly start: Minutes;
  /** Whether a minute more here is a minute more for the visit. */
  readonly critical: boolean;
  readonly crewMayLeave: boolean;
  readonly noWater: boolean;
}

/** What one kind of crew does at the lateral, on a day of its own. */
export interface CrewVisit {
  readonly crew: CrewKind;
  readonly steps: readonly TimedStep[];
  /** From set-up to closed access: the critical path. */
  readonly whole: Minutes;
  /** What of it the crew is needed for: without the times in which only a cure runs. */
  readonly handsOn: Minutes;
  /** Sum of each step's minutes by its people. */
  readonly peopleMinutes: Minutes;
  /** Most people at work at one time. */
  readonly mostPeople: number;
  /** People who stay while a cure runs. */
  readonly watching: number;
  /** From the first to the last minute in which occupants cannot use water. */
  readonly outage: Minutes;
}

/** What one kind of crew does for these works, one after another; null where it does not come. See timeCrew for how they hang together. */
export function timeVisit(
  crew: CrewKind,
  works: readonly TimedWork[],
  length: number,
  table: WorkSteps,
): CrewVisit | null {
  const { done, network } = wiredVisit(crew, works, table);
  if (done.length === 0) return null;
  const steps: WorkStep[] = [];
  const durations: number[] = [];
  for (const shared of done) {
    let longest: WorkStep | null = null;
    let duration = 0;
    // Of shared steps the longer stands for all, or the first of two as long.
    for (const { step, of } of shared) {
      const takes = minutesOf(step, length, works[of]!);
      if (longest === null || takes > duration) [longest, duration] = [step, takes];
    }
    steps.push(longest!);
    durations.push(duration);
  }
  return measureVisit(crew, steps, durations, scheduleNetwork(network, durations));
}

/** A step with the place of its work among those of the visit. */
interface PlacedStep {
  readonly step: WorkStep;
  readonly of: number;
}

interface WiredVisit {
  /** What is done: one step, or several shared ones that are done as one. */
  readonly done: readonly (readonly PlacedStep[])[];
  readonly network: Network;
}

/**
 * How the steps of a visit hang together, found once: it is the works' and the table's, whatever the lateral. Found anew for each of the
 * few thousand situations of a city it was a tenth of a plan of 100,000 laterals, and half of that the first thousand.
 */
function wiredVisit(crew: CrewKind, works: readonly TimedWork[], table: WorkSteps): WiredVisit {
  let known = wired.get(table);
  if (known === undefined) {
    known = new Map();
    wired.set(table, known);
  }
  const kinds = works.map(({ work }) => work);
  const key = `${crew}: ${kinds.join(", ")}`;
  let found = known.get(key);
  if (found === undefined) {
    found = wireVisit(crew, kinds, table);
    known.set(key, found);
  }
  return found;
}

const wired = new WeakMap<WorkSteps, Map<string, WiredVisit>>();

/** A step while the network grows; names are unique because the work stands in them. */
interface Node {
  readonly name: string;
  readonly steps: PlacedStep[];
  after: readonly string[];
}

function wireVisit(crew: CrewKind, works: readonly WorkKind[], table: WorkSteps): WiredVisit {
  const nodes: Node[] = [];
  const packUps: Node[] = [];
  const isSeveral = works.filter((work) => table.steps[work].some((step) => step.crew === crew)).length > 1;
  /** With several works their set-ups follow one another: at one time they need more people than a crew has. */
  const setUps: string[] = [];
  works.forEach((work, of) => {
    const before = nodes.map(({ name }) => name);
    for (const step of table.steps[work]) {
      if (step.crew !== crew) continue;
      const name = nodeName(work, step);
      const own = ownPredecessors(step, table.steps[work]).map((each) => nodeName(work, each));
      const list = step.shared === "pack-up" ? packUps : nodes;
      const shared = list.find((node) => node.name === name);
      if (shared !== undefined) {
        shared.steps.push({ step, of });
        shared.after = union(shared.after, own);
        continue;
      }
      list.push({ name, steps: [{ step, of }], after: own });
      if (step.shared === "pack-up") continue;
      // What waits for no step of its own work but a shared set-up begins when the works before have ended.
      const isOpening = own.every((each) => before.includes(each));
      const isReadyFirst =
        isSeveral && (step.shared === "set-up" || own.some((each) => setUps.includes(each)));
      nodes.at(-1)!.after = union(own, isOpening ? before : [], isReadyFirst ? setUps : []);
      if (step.shared === "set-up") setUps.push(name);
    }
  });
  // With several works a pack-up ends the visit; of one work it waits for its own steps only.
  const all = nodes.map(({ name }) => name);
  if (isSeveral) for (const node of packUps) node.after = all;
  const listed = [...nodes, ...packUps];
  return { done: listed.map(({ steps }) => steps), network: wireNetwork(listed) };
}

const union = (...lists: readonly (readonly string[])[]): readonly string[] => [...new Set(lists.flat())];

/** Shared steps of a kind at one position bear one name in a visit. */
const nodeName = (work: WorkKind, step: WorkStep): string =>
  step.shared === undefined ? `${work}: ${step.step}` : `${step.shared} at the ${step.position}`;

/** What a step waits for of its own crew's steps, through those of other crews too. */
function ownPredecessors(step: WorkStep, all: readonly WorkStep[]): readonly WorkStep[] {
  return step.after.flatMap((name) => {
    const before = all.find((each) => each.step === name);
    if (before === undefined) throw new RangeError(`timeVisit: "${step.step}" waits for "${name}", unknown`);
    return before.crew === step.crew ? [before] : ownPredecessors({ ...before, crew: step.crew }, all);
  });
}

function measureVisit(
  crew: CrewKind,
  of: readonly WorkStep[],
  durations: readonly number[],
  { earliestFinish, latestFinish, total }: Schedule,
): CrewVisit {
  const steps: TimedStep[] = [];
  let peopleMinutes = 0;
  let watching = 0;
  let dryFrom = Number.POSITIVE_INFINITY;
  let dryTo = 0;
  for (let i = 0; i < of.length; i++) {
    const { step, position, people, crewMayLeave = false, noWater = false } = of[i]!;
    const takes = durations[i]!;
    const finish = earliestFinish[i]!;
    const start = finish - takes;
    steps.push({
      step,
      position,
      crew,
      people,
      minutes: minutes(takes),
      start: minutes(start),
      critical: latestFinish[i] === finish,
      crewMayLeave,
      noWater,
    });
    peopleMinutes += people * takes;
    if (crewMayLeave) watching = Math.max(watching, people);
    if (noWater && takes > 0) {
      dryFrom = Math.min(dryFrom, start);
      dryTo = Math.max(dryTo, finish);
    }
  }
  return {
    crew,
    steps,
    whole: minutes(total),
    handsOn: minutes(coveredBy(steps.filter(({ crewMayLeave }) => !crewMayLeave))),
    peopleMinutes: minutes(peopleMinutes),
    mostPeople: mostAtOnce(steps),
    watching,
    outage: minutes(Math.max(0, dryTo - dryFrom)),
  };
}

/** Minutes in which at least one of the steps runs. */
function coveredBy(steps: readonly TimedStep[]): number {
  let covered = 0;
  let until = 0;
  for (const { start, minutes: takes } of [...steps].sort((a, b) => a.start - b.start)) {
    const end = start + takes;
    covered += Math.max(0, end - Math.max(until, start));
    until = Math.max(until, end);
  }
  return covered;
}

function mostAtOnce(steps: readonly TimedStep[]): number {
  let most = 0;
  for (const { start } of steps) {
    let people = 0;
    for (const each of steps)
      if (each.start <= start && start < each.start + each.minutes) people += each.people;
    most = Math.max(most, people);
  }
  return most;
}
