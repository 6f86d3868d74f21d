import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { type Network, wireNetwork } from "../engineering/critical-path.ts";
import { onceFor } from "../quantity/once-for.ts";
import type { WorkStep, WorkSteps } from "../reference/work-steps.ts";
import { type WorkKind, workKinds } from "../reference/works.ts";
import { StepMinutes, type TimedWork } from "./step-minutes.ts";

/** A step with the place of its work among those of the visit. */
interface PlacedStep {
  readonly takes: StepMinutes;
  readonly of: number;
}

/** What one kind of crew does for a list of works. */
export interface WiredVisit {
  readonly crew: CrewKind;
  /** What is done: one step, or several shared ones that are done as one. */
  readonly done: readonly (readonly PlacedStep[])[];
  readonly network: Network;
  /** Where the minutes of each are worked out: what stands here is of the lateral last asked about. */
  readonly room: Float64Array;
}

/**
 * The visits for these works, in the order the crews come, found once: they are the works' and the table's, whatever the lateral. Wired anew
 * for each of the few thousand situations of a city they took a tenth of a plan of 100,000 laterals.
 */
export function wiredVisits(works: readonly TimedWork[], table: WorkSteps): readonly WiredVisit[] {
  let wired = noWorks(table);
  for (let i = 0; i < works.length; i++) wired = wired.and(works[i]!.work);
  return wired.visits;
}

/** The visits for a list of works, and for the lists that begin with it. */
class WiredWorks {
  readonly visits: readonly WiredVisit[];
  readonly #works: readonly WorkKind[];
  readonly #table: WorkSteps;
  /** By place in `workKinds`. */
  readonly #next: (WiredWorks | undefined)[] = [];

  constructor(works: readonly WorkKind[], table: WorkSteps) {
    this.visits = crewKinds
      .map((crew) => wireVisit(crew, works, table))
      .filter(({ done }) => done.length > 0);
    this.#works = works;
    this.#table = table;
  }

  and(work: WorkKind): WiredWorks {
    const kind = workKinds.indexOf(work);
    this.#next[kind] ??= new WiredWorks([...this.#works, work], this.#table);
    return this.#next[kind];
  }
}

const noWorks = onceFor((table: WorkSteps) => new WiredWorks([], table));

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
      const placed = { takes: new StepMinutes(step), of };
      const name = nodeName(work, step);
      const own = ownPredecessors(step, table.steps[work]).map((each) => nodeName(work, each));
      const list = step.shared === "pack-up" ? packUps : nodes;
      const shared = list.find((node) => node.name === name);
      if (shared !== undefined) {
        shared.steps.push(placed);
        shared.after = union(shared.after, own);
        continue;
      }
      list.push({ name, steps: [placed], after: own });
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
  const done = listed.map(({ steps }) => steps);
  return { crew, done, network: wireNetwork(listed), room: new Float64Array(done.length) };
}

const union = (...lists: readonly (readonly string[])[]): readonly string[] => [...new Set(lists.flat())];

/** Shared steps of a kind at one position bear one name in a visit. */
const nodeName = (work: WorkKind, step: WorkStep): string =>
  step.shared === undefined ? `${work}: ${step.step}` : `${step.shared} at the ${step.position}`;

/** What a step waits for of its own crew's steps, through those of other crews too. */
function ownPredecessors(step: WorkStep, all: readonly WorkStep[]): readonly WorkStep[] {
  return step.after.flatMap((name) => {
    const before = all.find((each) => each.step === name);
    if (before === undefined) throw new RangeError(`wireVisit: "${step.step}" waits for "${name}", unknown`);
    return before.crew === step.crew ? [before] : ownPredecessors({ ...before, crew: step.crew }, all);
  });
}
