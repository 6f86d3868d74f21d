import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { type Schedule, schedulePath } from "../engineering/critical-path.ts";
import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkedTime, WorkStep, WorkSteps } from "../reference/work-steps.ts";
import { type WorkKind, workKinds } from "../reference/works.ts";

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
  readonly crewDayHundredths: number;
}

export interface CrewTime {
  /** One for each kind of crew that comes, in the order they come. */
  readonly visits: readonly CrewVisit[];
  /** Steps of all visits, in order. */
  readonly steps: readonly TimedStep[];
  /** Visits one after another. */
  readonly total: Minutes;
  /** The longest outage of a visit. */
  readonly outage: Minutes;
  /** Whole hundredths of a crew-day, so that districts add up to the program. */
  readonly crewDayHundredths: number;
}

/** Minutes worked out for the liner placed: its insertion, its cure, its cool-down. */
export type LinerTimes = Readonly<Record<WorkedTime, Minutes>>;

/** One work at a lateral, with what was worked out for its liner. */
export interface TimedWork {
  readonly work: WorkKind;
  /** Null for a work that places no liner. */
  readonly times: LinerTimes | null;
  /** Liners placed one after another; 1 but for several sections. */
  readonly pieces: number;
  /** Opened again after a liner over the whole length. */
  readonly branches: number;
}

/**
 * Time each kind of crew is on the lateral: the critical path of its steps. Steps worked along the pipe take longer in a
 * longer one; what is worked out for a work's liner comes on top of a step's own minutes. A step of each piece is done as
 * often as there are sections. A work begins when the one before it at this lateral has ended, as far as the same kind of
 * crew does both; shared set-ups and pack-ups are done once, in the time of the longest, before and after all of them.
 *
 * @param length of the lateral in m; 0 where it is not known: then only the minutes that no length changes count
 */
export function timeCrew(works: readonly TimedWork[], length: number, table: WorkSteps): CrewTime {
  let known = timed.get(table);
  if (known === undefined || known.size >= MOST_KNOWN) {
    known = { first: new Situation(), size: 0 };
    timed.set(table, known);
  }
  let situation = known.first;
  for (const each of works) {
    situation = situation.next(each.work);
    for (const step of changingSteps(each.work, table))
      situation = situation.next(minutesOf(step, length, each));
  }
  if (situation.time === null) {
    situation.time = timeWorks(works, length, table);
    known.size++;
  }
  return situation.time;
}

/** A place in the tree of situations: the works, and the minutes of those of their steps that are not the same at every lateral. */
class Situation {
  readonly #next = new Map<WorkKind | number, Situation>();
  time: CrewTime | null = null;

  next(branch: WorkKind | number): Situation {
    let found = this.#next.get(branch);
    if (found === undefined) {
      found = new Situation();
      this.#next.set(branch, found);
    }
    return found;
  }
}

/**
 * Crew times by situation. Steps take whole minutes, so the same works of the same minutes come again and again: three thousand times in
 * a million laterals. Worked out anew for each offer they took a tenth of the plan's time; found by a text of all minutes, an eighth of
 * what was left.
 */
const timed = new WeakMap<WorkSteps, { readonly first: Situation; size: number }>();
const MOST_KNOWN = 20_000;

/** The steps whose minutes depend on the lateral or its liner. */
function changingSteps(work: WorkKind, table: WorkSteps): readonly WorkStep[] {
  let known = changing.get(table);
  if (known === undefined) {
    known = new Map(workKinds.map((each) => [each, table.steps[each].filter(isChanging)]));
    changing.set(table, known);
  }
  return known.get(work)!;
}

const changing = new WeakMap<WorkSteps, ReadonlyMap<WorkKind, readonly WorkStep[]>>();

const isChanging = ({ perMetre, perBranch, plus, eachPiece }: WorkStep): boolean =>
  perMetre !== undefined || perBranch !== undefined || plus !== undefined || eachPiece === true;

function timeWorks(works: readonly TimedWork[], length: number, table: WorkSteps): CrewTime {
  const visits = crewKinds.flatMap((crew) => {
    const visit = timeVisit(crew, works, length, table);
    return visit === null ? [] : [visit];
  });
  const sum = (of: (visit: CrewVisit) => number) => visits.reduce((total, visit) => total + of(visit), 0);
  return {
    visits,
    steps: visits.flatMap(({ steps }) => steps),
    total: minutes(sum(({ whole }) => whole)),
    outage: minutes(Math.max(0, ...visits.map(({ outage }) => outage))),
    crewDayHundredths: sum(({ crewDayHundredths }) => crewDayHundredths),
  };
}

/** A step in the network of a visit; names are unique because the work stands in them. */
interface Node {
  readonly name: string;
  readonly duration: number;
  readonly after: readonly string[];
  readonly step: WorkStep;
}

function timeVisit(
  crew: CrewKind,
  works: readonly TimedWork[],
  length: number,
  table: WorkSteps,
): CrewVisit | null {
  const nodes: Node[] = [];
  const packUps = new Map<string, Node>();
  const ofCrew = works.filter(({ work }) => table.steps[work].some((step) => step.crew === crew));
  const isSeveral = ofCrew.length > 1;
  /** With several works their set-ups follow one another: at one time they need more people than a crew has. */
  const setUps: string[] = [];
  for (const placed of ofCrew) {
    const { work } = placed;
    const before = nodes.map(({ name }) => name);
    const isFirst = before.length === 0;
    for (const { step, name, own } of wiredSteps(work, table)) {
      if (step.crew !== crew) continue;
      const duration = minutesOf(step, length, placed);
      if (step.shared === "pack-up") {
        packUps.set(name, longest(packUps.get(name), { name, duration, after: own, step }));
        continue;
      }
      const at = nodes.findIndex((node) => node.name === name);
      if (at >= 0) {
        nodes[at] = longest(nodes[at], { name, duration, after: [], step });
        continue;
      }
      // What waits for no step of its own work but a shared set-up begins when the works before have ended.
      const isOpening = own.every((each) => before.includes(each));
      const isReadyFirst =
        isSeveral && (step.shared === "set-up" || own.some((each) => setUps.includes(each)));
      nodes.push({
        name,
        duration,
        after: [
          ...new Set([...own, ...(isFirst || !isOpening ? [] : before), ...(isReadyFirst ? setUps : [])]),
        ],
        step,
      });
      if (step.shared === "set-up") setUps.push(name);
    }
  }
  // With several works a pack-up ends the visit; of one work it waits for its own steps only.
  const all = nodes.map(({ name }) => name);
  for (const node of packUps.values()) nodes.push(isSeveral ? { ...node, after: all } : node);
  return nodes.length === 0 ? null : measureVisit(crew, nodes, schedulePath(nodes), table.shiftMinutes);
}

/** A step with its name in the network and the names it waits for. */
interface WiredStep {
  readonly step: WorkStep;
  readonly name: string;
  readonly own: readonly string[];
}

/** How a work's steps hang together, found once: it is a table's, whatever the lateral (with it the first thousand visits take a third less). */
function wiredSteps(work: WorkKind, table: WorkSteps): readonly WiredStep[] {
  let known = wired.get(table);
  if (known === undefined) {
    known = new Map();
    wired.set(table, known);
  }
  let found = known.get(work);
  if (found === undefined) {
    const steps = table.steps[work];
    const named = new Map(steps.map((step) => [step.step, nodeName(work, step)]));
    found = steps.map((step) => ({
      step,
      name: nodeName(work, step),
      own: ownPredecessors(step, steps).map((name) => named.get(name)!),
    }));
    known.set(work, found);
  }
  return found;
}

const wired = new WeakMap<WorkSteps, Map<WorkKind, readonly WiredStep[]>>();

/** Shared steps of a kind at one position bear one name in a visit. */
const nodeName = (work: WorkKind, step: WorkStep): string =>
  step.shared === undefined ? `${work}: ${step.step}` : `${step.shared} at the ${step.position}`;

/** One step in place of two that are shared: the longer, or the first of two as long; with what both wait for. */
function longest(first: Node | undefined, second: Node): Node {
  if (first === undefined) return second;
  const { duration, step } = second.duration > first.duration ? second : first;
  return { name: second.name, duration, after: [...new Set([...first.after, ...second.after])], step };
}

function measureVisit(
  crew: CrewKind,
  nodes: readonly Node[],
  path: Schedule,
  shiftMinutes: number,
): CrewVisit {
  const steps = nodes.map(({ step }, i): TimedStep => {
    const { earliestStart, duration, float } = path.activities[i]!;
    return {
      step: step.step,
      position: step.position,
      crew,
      people: step.people,
      minutes: minutes(duration),
      start: minutes(earliestStart),
      critical: float === 0,
      crewMayLeave: step.crewMayLeave === true,
      noWater: step.noWater === true,
    };
  });
  const without = steps.filter(({ noWater, minutes: takes }) => noWater && takes > 0);
  return {
    crew,
    steps,
    whole: minutes(path.total),
    handsOn: minutes(coveredBy(steps.filter(({ crewMayLeave }) => !crewMayLeave))),
    peopleMinutes: minutes(steps.reduce((sum, step) => sum + step.people * step.minutes, 0)),
    mostPeople: mostAtOnce(steps),
    watching: Math.max(0, ...steps.filter(({ crewMayLeave }) => crewMayLeave).map(({ people }) => people)),
    outage: minutes(
      without.length === 0
        ? 0
        : Math.max(...without.map((step) => step.start + step.minutes)) -
            Math.min(...without.map(({ start }) => start)),
    ),
    crewDayHundredths: Math.round((path.total * 100) / shiftMinutes),
  };
}

/** What a step waits for of its own crew's steps, through those of other crews too. */
function ownPredecessors(step: WorkStep, all: readonly WorkStep[]): readonly string[] {
  return step.after.flatMap((name) => {
    const before = all.find((each) => each.step === name);
    if (before === undefined) throw new RangeError(`timeCrew: "${step.step}" waits for "${name}", unknown`);
    return before.crew === step.crew ? [name] : ownPredecessors({ ...before, crew: step.crew }, all);
  });
}

/** Whole minutes, rounded once. */
function minutesOf(step: WorkStep, length: number, { times, pieces, branches }: TimedWork): Minutes {
  const { minutes: base, perMetre, perBranch, plus, eachPiece } = step;
  const along = perMetre === undefined ? 0 : perMetre * length;
  let worked = 0;
  if (plus !== undefined) for (const time of plus) worked += linerOf(times, step)[time];
  const opened = perBranch === undefined ? 0 : perBranch * branches;
  return minutes(Math.round((base + worked) * (eachPiece === true ? pieces : 1) + along + opened));
}

function linerOf(liner: LinerTimes | null, { step }: WorkStep): LinerTimes {
  if (liner === null) throw new RangeError(`timeCrew: "${step}" waits for a liner that is not there`);
  return liner;
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
