import type { Column } from "../columns/column.ts";
import type { Basis, ChosenLiner } from "../reference/basis.ts";
import { type LinerSystem, type PlannedUse, plannedUses } from "../reference/liner-systems.ts";
import type { TreatmentRules } from "../reference/treatment-rules.ts";
import type { Condition } from "./condition.ts";
import type { Effluent } from "./effluent.ts";
import type { Inspection, Lateral, Observation } from "./lateral.ts";
import { describeReason } from "./reason.ts";
import { cityReader, conditionReader } from "./score-values.ts";
import { effluentRefusals } from "./system-limits.ts";
import { ovalityOf } from "./walls.ts";

/**
 * Facts that rules may name beside the columns of the sheet: what the surveys saw, the program's thresholds, and what the
 * systems it chose declare of themselves.
 */
export interface FactInputs {
  readonly lateral: Lateral;
  readonly condition: Condition;
  readonly effluent: Effluent;
  readonly basis: Pick<Basis, "program" | "liners" | "effluents" | "assumptions">;
  readonly thresholds: TreatmentRules["thresholds"];
  /** Whether work on the connection may be planned to follow a main that is to be lined. */
  readonly connectionFollowsMain: boolean;
  /** Whether no liner over the whole length can be designed and cured, for a reason that stays. */
  liningImpossible(): boolean;
}

interface Fact extends Column {
  readonly read: (inputs: FactInputs) => number | string;
  /** What it is read from beside the basis and the thresholds: nothing, what the surveys that count saw, the effluent, or more. */
  readonly from: "program" | "observations" | "effluent" | "lateral";
}

type Shown = Pick<Column, "heading" | "help" | "measure">;
const fact = (key: string, shown: Shown, read: Fact["read"], from: Fact["from"] = "lateral"): Fact => ({
  key,
  stage: "condition",
  ...shown,
  read,
  from,
});
const flag = (key: string, heading: string, help: string, read: (inputs: FactInputs) => boolean) =>
  fact(key, { heading, help, measure: "flag" }, (inputs) => Number(read(inputs)));
/** Whether a kind was seen by the surveys that count; missing where they have no observations. */
const seen = (key: string, heading: string, ...kinds: readonly string[]) =>
  fact(
    key,
    { heading, help: `Whether the surveys that count saw: ${kinds.join(", ")}.`, measure: "flag" },
    (inputs) => {
      const worst = worstOf(inputs, kinds);
      return worst === null ? Number.NaN : Number(worst > NOT_SEEN);
    },
    "observations",
  );
const worst = (key: string, heading: string, ...kinds: readonly string[]) =>
  fact(
    key,
    {
      heading,
      help: `Worst grade of: ${kinds.join(", ")}. 0 where none was seen; one without a grade counts as 5.`,
      measure: "grade",
    },
    (inputs) => {
      const grade = worstOf(inputs, kinds);
      return grade === null ? Number.NaN : Math.max(0, grade);
    },
    "observations",
  );
const threshold = (key: string, name: keyof TreatmentRules["thresholds"], measure: Column["measure"]) =>
  fact(
    key,
    {
      heading: key.replaceAll("_", " "),
      help: `Threshold of the program: ${key.replaceAll("_", " ")}.`,
      measure,
    },
    ({ thresholds }) => thresholds[name],
    "program",
  );

/** What the system of a use declares; missing where the program names no system of it. */
const declared = (
  key: string,
  use: PlannedUse,
  what: string,
  measure: Column["measure"],
  read: (system: LinerSystem) => number,
) =>
  fact(
    key,
    {
      heading: key.replaceAll("_", " "),
      help: `${what}, as the ${use} liner system of the program declares it.`,
      measure,
    },
    ({ basis }) => {
      const chosen = basis.liners[use];
      return chosen === null ? Number.NaN : read(chosen.system);
    },
    "program",
  );
const reach = (use: PlannedUse) => {
  const name = use.replaceAll("-", "_");
  return [
    declared(`longest_${name}`, use, "Longest lateral reached", "length", (system) => system.longestLength),
    declared(`sharpest_${name}`, use, "Sharpest bend passed", "degrees", (system) => system.greatestBend),
    declared(
      `size_change_${name}`,
      use,
      "Greatest change of size bridged",
      "percent",
      (system) => system.sizeChangeBridged,
    ),
  ];
};
/** In words, because which resin the table of effluents would choose is part of the answer. */
const effluentAgainst = (use: PlannedUse) =>
  fact(
    `effluent_against_${use.replaceAll("-", "_")}`,
    {
      heading: `Effluent against ${use}`,
      help: `What the resin, the tube or the rating of the ${use} liner system does not stand of the effluent, by the table of effluents; missing where it stands it.`,
      measure: "text",
    },
    ({ effluent, basis }) => {
      const chosen = basis.liners[use];
      return chosen === null ? "" : wordsAgainst(effluent, chosen, basis);
    },
    "effluent",
  );

function wordsAgainst(effluent: Effluent, chosen: ChosenLiner, basis: FactInputs["basis"]): string {
  const refusals = effluentRefusals(effluent, chosen, basis.effluents);
  return refusals.map((reason) => describeReason(reason, basis.program)).join("; ");
}

const repairNeeded = ({ condition: { structural, connection }, thresholds }: FactInputs): boolean =>
  (structural?.value ?? 0) >= thresholds.lineFromStructural ||
  (connection?.value ?? 0) >= thresholds.connectionFrom;

export const facts: readonly Fact[] = [
  seen("collapse_seen", "Collapse seen", "collapse"),
  seen("missing_wall_seen", "Missing wall seen", "missing wall"),
  seen("deformation_seen", "Deformation seen", "deformed"),
  seen("tap_protruding_seen", "Protruding tap seen", "protruding tap"),
  seen("running_infiltration_seen", "Running infiltration seen", "infiltration run"),
  seen("infiltration_seen", "Infiltration seen", "infiltration seep", "infiltration run"),
  seen("open_joint_seen", "Open joint seen", "joint open"),
  worst("worst_offset", "Worst offset", "joint offset"),
  worst("worst_sag", "Worst sag", "sag"),
  worst("worst_roots", "Worst roots", "root fine", "root mass"),
  flag(
    "survey_stopped",
    "Survey stopped",
    "Whether a survey newer than the leading one could not get through.",
    ({ condition }) => condition.reinspect.some(({ code }) => code === "survey stopped"),
  ),
  flag(
    "repair_needed",
    "Repair needed",
    "Whether the structural or the connection grade asks for a liner.",
    repairNeeded,
  ),
  flag(
    "work_needed",
    "Work needed",
    "Whether any grade asks for work: a liner or cleaning.",
    (inputs) => repairNeeded(inputs) || (inputs.condition.om?.value ?? 0) >= inputs.thresholds.cleanFromOm,
  ),
  flag(
    "lining_impossible",
    "Lining impossible",
    "Whether no full-length liner can be designed for this host, for a reason that no answer, other resin or other cure lifts.",
    (inputs) => inputs.liningImpossible(),
  ),
  flag(
    "connection_follows_main",
    "Connection follows main",
    "Whether work on the connection may follow a main that is to be lined: season.mains_lined gives a day in this season, or nothing else is left to do, and the season holds it back.",
    ({ connectionFollowsMain }) => connectionFollowsMain,
  ),
  threshold("line_from_structural", "lineFromStructural", "grade"),
  threshold("dig_from_structural", "digFromStructural", "grade"),
  threshold("clean_from_om", "cleanFromOm", "grade"),
  threshold("connection_from", "connectionFrom", "grade"),
  threshold("leave_up_to_structural", "leaveUpToStructural", "grade"),
  threshold("leave_up_to_om", "leaveUpToOm", "grade"),
  threshold("sectional_most_defects", "sectionalMostDefects", "count"),
  threshold("greatest_ovality", "greatestOvality", "percent"),
  fact(
    "host_ovality",
    {
      heading: "Host ovality",
      help: "Ovality that walls are designed for: the measured one, never under the assumed one.",
      measure: "percent",
    },
    ({ condition, basis }) => ovalityOf(condition.ovality, basis.assumptions.ovality).value,
  ),
  ...plannedUses.filter((use) => use !== "connection").flatMap(reach),
  ...plannedUses.map(effluentAgainst),
];

const byKey: ReadonlyMap<string, Fact> = new Map(facts.map((each) => [each.key, each]));

interface ReaderOf<From, Of> {
  readonly from: From;
  readonly read: (of: Of) => number | string;
}

/** A reader of what a rule may name, with what it reads. */
export type FactReader =
  | ReaderOf<"program", FactInputs>
  | ReaderOf<"observations", FactInputs>
  | ReaderOf<"effluent", FactInputs>
  | ReaderOf<"lateral", FactInputs>
  | ReaderOf<"condition", Condition>
  | ReaderOf<"city", Lateral>;

/**
 * A reader of what a rule may name: a fact, or a column known before the treatment.
 *
 * @throws RangeError for any other name: what rules read was checked when they were compiled
 */
export function factReader(key: string): FactReader {
  const fact = byKey.get(key);
  if (fact !== undefined) return { from: fact.from, read: fact.read };
  const ofCondition = conditionReader(key);
  if (ofCondition !== null) return { from: "condition", read: ofCondition };
  const ofCity = cityReader(key);
  if (ofCity !== null) return { from: "city", read: ofCity };
  throw new RangeError(`factReader: a rule reads ${JSON.stringify(key)}, which is no fact`);
}

/** What a rule reads by a name, of one lateral. */
export function readFact(key: string, inputs: FactInputs): number | string {
  const reader = factReader(key);
  switch (reader.from) {
    case "condition":
      return reader.read(inputs.condition);
    case "city":
      return reader.read(inputs.lateral);
    default:
      return reader.read(inputs);
  }
}

const NOT_SEEN = -1;
const WORST_GRADE = 5;

/** The worst grade of these kinds in the surveys that count. Null without observations. */
function worstOf(inputs: FactInputs, kinds: readonly string[]): number | null {
  const observations = observationsThatCount(inputs);
  if (observations === null) return null;
  let worst = NOT_SEEN;
  for (const { kind, grade } of observations)
    if (kinds.includes(kind)) worst = Math.max(worst, grade ?? WORST_GRADE);
  return worst;
}

/** What the surveys that count saw: the leading one, the one joined with it, and any newer; null where none has observations. */
export function observationsThatCount(inputs: FactInputs): readonly Observation[] | null {
  const { lateral, condition } = inputs;
  if (condition.leading === null) return null;
  if (lateral !== seenIn.lateral || condition !== seenIn.condition)
    seenIn = { lateral, condition, observations: gatherObservations(inputs, condition.leading) };
  return seenIn.observations;
}

/** What was seen in the lateral asked about last: ten facts ask, one after another. */
let seenIn: {
  readonly lateral: Lateral | null;
  readonly condition: Condition | null;
  readonly observations: readonly Observation[] | null;
} = {
  lateral: null,
  condition: null,
  observations: null,
};

function gatherObservations(
  { lateral, condition: { joinedWith }, basis }: FactInputs,
  leading: Inspection,
): readonly Observation[] | null {
  let found: readonly Observation[] | null = null;
  for (const survey of lateral.inspections) {
    if (survey.on > basis.program.asOf || (survey.on < leading.on && survey !== joinedWith)) continue;
    if (survey.observations === null) continue;
    found = found === null ? survey.observations : [...found, ...survey.observations];
  }
  return found;
}
