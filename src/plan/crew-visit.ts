import type { CrewKind } from "../columns/plan-columns.ts";
import { finishEarliest, scheduleNetwork } from "../engineering/critical-path.ts";
import { type Minutes, minutes } from "../quantity/si.ts";
import type { WorkStep } from "../reference/work-steps.ts";
import type { TimedWork } from "./step-minutes.ts";
import type { WiredVisit } from "./wired-visit.ts";

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

/** What one kind of crew does for these works, one after another. See timeCrew for how they hang together. */
export function timeVisit(wired: WiredVisit, works: readonly TimedWork[], length: number): CrewVisit {
  const { network, room } = wired;
  for (let i = 0; i < room.length; i++) room[i] = durationOf(wired, i, works, length);
  finishEarliest(network, room);
  let whole = 0;
  for (let i = 0; i < room.length; i++) whole = Math.max(whole, room[i]!);
  return new TimedVisit(wired, works, length, minutes(whole));
}

/** Of shared steps that of the longest. */
function durationOf({ done }: WiredVisit, i: number, works: readonly TimedWork[], length: number): number {
  const shared = done[i]!;
  let longest = 0;
  for (let j = 0; j < shared.length; j++) {
    const { takes, of } = shared[j]!;
    longest = Math.max(longest, takes.at(length, works[of]!));
  }
  return longest;
}

/** Of nearly all visits the whole alone is asked for: who does what when is put together when somebody asks. */
class TimedVisit implements CrewVisit {
  readonly crew: CrewKind;
  readonly whole: Minutes;
  readonly #wired: WiredVisit;
  readonly #works: readonly TimedWork[];
  readonly #length: number;
  #steps: readonly TimedStep[] | null = null;

  constructor(wired: WiredVisit, works: readonly TimedWork[], length: number, whole: Minutes) {
    this.crew = wired.crew;
    this.whole = whole;
    this.#wired = wired;
    this.#works = works;
    this.#length = length;
  }

  get steps(): readonly TimedStep[] {
    this.#steps ??= this.#timeSteps();
    return this.#steps;
  }

  #timeSteps(): readonly TimedStep[] {
    const wired = this.#wired;
    const durations = wired.done.map((_, i) => durationOf(wired, i, this.#works, this.#length));
    const { earliestFinish, latestFinish } = scheduleNetwork(wired.network, durations);
    return durations.map((takes, i) => {
      const { step, position, people, crewMayLeave = false, noWater = false } = this.#standingFor(i, takes);
      const finish = earliestFinish[i]!;
      return {
        step,
        position,
        crew: this.crew,
        people,
        minutes: minutes(takes),
        start: minutes(finish - takes),
        critical: latestFinish[i] === finish,
        crewMayLeave,
        noWater,
      };
    });
  }

  /** Of shared steps the longer stands for all, or the first of two as long. */
  #standingFor(i: number, longest: number): WorkStep {
    const standing = this.#wired.done[i]!.find(
      ({ takes, of }) => takes.at(this.#length, this.#works[of]!) === longest,
    );
    return standing!.takes.step;
  }

  get handsOn(): Minutes {
    return minutes(coveredBy(this.steps.filter(({ crewMayLeave }) => !crewMayLeave)));
  }

  get peopleMinutes(): Minutes {
    return minutes(this.steps.reduce((sum, { people, minutes: takes }) => sum + people * takes, 0));
  }

  get mostPeople(): number {
    return mostAtOnce(this.steps);
  }

  get watching(): number {
    return this.steps.reduce(
      (most, { crewMayLeave, people }) => (crewMayLeave ? Math.max(most, people) : most),
      0,
    );
  }

  get outage(): Minutes {
    let from = Number.POSITIVE_INFINITY;
    let to = 0;
    for (const { start, minutes: takes, noWater } of this.steps) {
      if (!noWater || takes === 0) continue;
      from = Math.min(from, start);
      to = Math.max(to, start + takes);
    }
    return minutes(Math.max(0, to - from));
  }
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
