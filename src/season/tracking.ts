import type { Decisions } from "../columns/decided.ts";
import type { CrossBoreState } from "../columns/lateral-columns.ts";
import {
  type CrewKind,
  crewKinds,
  type SeasonReason,
  type WorkStatus,
  workStatuses,
} from "../columns/plan-columns.ts";
import { type Cents, cents } from "../quantity/si.ts";
import { codesOf, numberAt, type Table, textAt } from "../sheet/table.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { visitKeys } from "./visit-keys.ts";

/**
 * Where a lateral stands for the season: still to be chosen, begun, held back because a cross-bore was found that is not made safe, held
 * fixed, or not to be done.
 */
export const standings = ["to do", "under way", "held back", "done", "refused"] as const;
export type Standing = (typeof standings)[number];

/** Permitted is a paper, not work. Cleaned and measured: a crew has been there, and the choice may still change. */
const standingOf: Readonly<Record<WorkStatus, Exclude<Standing, "held back">>> = {
  permitted: "to do",
  cleaned: "under way",
  measured: "under way",
  lined: "done",
  accepted: "done",
  "warranty check due": "done",
  refused: "refused",
};

/** How a lateral stands that the season may not choose about. */
export type HeldStanding = Exclude<Standing, "to do" | "under way">;

/** Why a lateral is out that the season may not choose about. */
export const heldReasons = {
  done: "done already",
  refused: "refused",
  "held back": "cross-bore not made safe",
} as const satisfies Record<HeldStanding, SeasonReason>;

/** A lateral that the season may not choose about any more, or not yet. */
export interface HeldRow {
  /** Row of the lateral in the planned table. */
  readonly row: number;
  readonly id: string;
  readonly standing: HeldStanding;
  /** "" where none is recorded of one that is held back. */
  readonly status: WorkStatus | "";
  /** As the person gave it; of one that is held back, why it is. */
  readonly reason: string;
  /** Spent; of one that is done, where nobody entered it, the planned cost; null where nothing is known. */
  readonly cost: Cents | null;
  /** Whether the cost is the planned one because nobody entered what was spent. */
  readonly costIsPlanned: boolean;
}

/**
 * What replanning holds fixed: laterals that are done stay done at what they cost and are not chosen about again; refused ones and those
 * held back are left out, with the reason.
 */
export function heldRows({
  laterals,
  tables,
}: Pick<PlannedProgram, "laterals" | "tables">): readonly HeldRow[] {
  const held: HeldRow[] = [];
  for (let row = 0; row < laterals.rows; row++) {
    const standing = standingAt(laterals, row);
    if (isOpen(standing)) continue;
    const id = textAt(laterals, "lateral", row);
    const spent = numberAt(laterals, "installed_cost", row);
    const planned = numberAt(laterals, "cost", row);
    const cost = standing === "done" && Number.isNaN(spent) ? planned : spent;
    held.push({
      row,
      id,
      standing,
      status: textAt(laterals, "status", row) as WorkStatus | "",
      reason: standing === "held back" ? heldReasons[standing] : reasonOf(tables.decisions, id),
      cost: Number.isNaN(cost) ? null : cents(cost),
      costIsPlanned: standing === "done" && Number.isNaN(spent),
    });
  }
  return held;
}

/**
 * Money spent on it is work begun, whatever its status says: a season and its progress count the same laterals. Whatever is left to do where
 * a cross-bore was found waits until that is recorded as made safe, a look with the camera too.
 */
export function standingAt(laterals: Table, row: number): Standing {
  const status = textAt(laterals, "status", row);
  const standing = status === "" ? "to do" : standingOf[status as WorkStatus];
  if (!isOpen(standing)) return standing;
  if (textAt(laterals, "cross_bore", row) === FOUND) return "held back";
  return numberAt(laterals, "installed_cost", row) > 0 ? "under way" : standing;
}

const FOUND: CrossBoreState = "found";

/** Whether work on it may still be planned. */
export const isOpen = (standing: Standing): standing is "to do" | "under way" =>
  standing === "to do" || standing === "under way";

/** Rows that are held back. Where no cross-bore is found no row is looked at. */
export function heldBackRows(laterals: Table): readonly number[] {
  const { codes, words } = codesOf(laterals, "cross_bore");
  const found = words.indexOf(FOUND, 1);
  const rows: number[] = [];
  for (let row = codes.indexOf(found); found > 0 && row >= 0; row = codes.indexOf(found, row + 1))
    if (standingAt(laterals, row) === "held back") rows.push(row);
  return rows;
}

/** Ids of the laterals that are held back; of a season's plan, which has none of them, those of the whole program. */
export const heldBackIn = ({
  laterals,
  heldBack,
}: Pick<PlannedProgram, "laterals" | "heldBack">): readonly string[] =>
  heldBack ?? heldBackRows(laterals).map((row) => textAt(laterals, "lateral", row));

/**
 * Whether the district of a lateral that stands so is opened: what moving the crews there costs is gone, whatever visits are over or left.
 * So it is by one that was refused or is held back when money had gone into it.
 *
 * @param spent cents as entered, NaN where nobody did
 */
export const hasOpened = (standing: Standing, spent: number): boolean =>
  standing === "done" || standing === "under way" || (standing !== "to do" && spent > 0);

/**
 * Whether this kind of crew has been to a lateral whose work is under way: cleaned or measured, the preparation has; money spent says nothing
 * of a visit. One that is planned to be inspected has had another visit: what it was cleaned for is planned when its survey comes.
 */
export function isVisitOver(laterals: Table, row: number, crew: CrewKind): boolean {
  if (crew !== "preparation") return false;
  const status = textAt(laterals, "status", row);
  return (
    (status === "cleaned" || status === "measured") && textAt(laterals, "treatment", row) !== "inspect first"
  );
}

/** Laterals of a plan that wait for an inspection. */
export function inspectionsIn({ laterals }: Pick<PlannedProgram, "laterals">): number {
  let count = 0;
  for (let row = 0; row < laterals.rows; row++)
    if (textAt(laterals, "treatment", row) === "inspect first" && isOpen(standingAt(laterals, row))) count++;
  return count;
}

/** Statuses of laterals that the season may not choose about any more. */
export const heldStatuses: readonly WorkStatus[] = workStatuses.filter(
  (status) => !isOpen(standingOf[status]),
);

const reasonOf = (decisions: Decisions, id: string): string =>
  decisions.get(id)?.get("status")?.reason ?? "no reason given";

/** How far a district has come, or the whole program. Whole numbers: districts add up to the program. */
export interface Progress {
  /** "" is the laterals the city puts in no district. */
  readonly district: string;
  laterals: number;
  readonly byStatus: Record<WorkStatus, number>;
  /** Laterals by standing; those that the plan leaves are no work and counted apart. */
  readonly byStanding: Record<Standing, number>;
  noWork: number;
  /** Laterals that have opened the district (see hasOpened). */
  opening: number;
  /** Entered costs of all laterals, whatever their standing; planned costs of those that are done without one. */
  spent: Cents;
  /** Of `spent`, the part that is a planned cost standing in. */
  spentAsPlanned: Cents;
  /** Planned cost of what is to do or under way, less what is already spent on it, not below 0 for a lateral. */
  stillToSpend: Cents;
  /** Laterals whose work is left and has no price: not in `stillToSpend`. */
  unpriced: number;
  /** Crew time of what is to do or under way, as planned, without visits that are over. */
  crewMinutesLeft: number;
  installedMillimetres: number;
}

/** Leaving a lateral is nothing that could be done or be left undone; an inspection is. */
const NO_WORK = "leave and re-inspect";

/** Progress by district, in the order of their names, and of the program. */
export function trackProgress({ laterals, materials }: Pick<PlannedProgram, "laterals" | "materials">): {
  readonly districts: readonly Progress[];
  readonly program: Progress;
} {
  const program = noProgress("");
  const districts = new Map<string, Progress>();
  for (let row = 0; row < laterals.rows; row++) {
    const name = textAt(laterals, "district", row);
    const own = districts.get(name) ?? noProgress(name);
    districts.set(name, own);
    for (const into of [own, program]) addLateral(into, laterals, materials, row);
  }
  const names = [...districts.keys()].sort((a, b) => (a < b ? -1 : 1));
  return { districts: names.map((name) => districts.get(name)!), program };
}

function addLateral(into: Progress, laterals: Table, materials: Table, row: number): void {
  const standing = standingAt(laterals, row);
  const status = textAt(laterals, "status", row);
  const entered = numberAt(laterals, "installed_cost", row);
  const planned = numberAt(laterals, "cost", row);
  const installed = numberAt(laterals, "installed_length", row);
  into.laterals++;
  if (status !== "") into.byStatus[status as WorkStatus]++;
  if (!Number.isNaN(installed)) into.installedMillimetres += Math.round(installed * 1000);
  if (!Number.isNaN(entered)) into.spent = cents(into.spent + entered);
  if (standing === "to do" && status === "" && textAt(laterals, "treatment", row) === NO_WORK) {
    into.noWork++;
    return;
  }
  into.byStanding[standing]++;
  if (hasOpened(standing, entered)) into.opening++;
  switch (standing) {
    case "refused":
    case "held back":
      break;
    case "done":
      if (Number.isNaN(entered) && !Number.isNaN(planned)) {
        into.spent = cents(into.spent + planned);
        into.spentAsPlanned = cents(into.spentAsPlanned + planned);
      }
      break;
    case "to do":
    case "under way": {
      for (const crew of crewKinds)
        if (!isVisitOver(laterals, row, crew))
          into.crewMinutesLeft += numberAt(materials, visitKeys(crew).whole, row);
      const already = Number.isNaN(entered) ? 0 : entered;
      if (Number.isNaN(planned)) into.unpriced++;
      else into.stillToSpend = cents(into.stillToSpend + Math.max(0, planned - already));
      break;
    }
    default:
      standing satisfies never;
  }
}

/** Districts by what opening them costs: gone where work has begun, still to come where all that is left of it is, were it preparation only. */
export function countOpenings(districts: readonly Pick<Progress, "byStanding" | "opening">[]) {
  const toOpen = districts.filter(({ opening, byStanding }) => opening === 0 && byStanding["to do"] > 0);
  return { opened: districts.filter(({ opening }) => opening > 0).length, toOpen: toOpen.length };
}

const noProgress = (district: string): Progress => ({
  district,
  laterals: 0,
  byStatus: Object.fromEntries(workStatuses.map((status) => [status, 0])) as Record<WorkStatus, number>,
  byStanding: { "to do": 0, "under way": 0, "held back": 0, done: 0, refused: 0 },
  noWork: 0,
  opening: 0,
  spent: cents(0),
  spentAsPlanned: cents(0),
  stillToSpend: cents(0),
  unpriced: 0,
  crewMinutesLeft: 0,
  installedMillimetres: 0,
});
