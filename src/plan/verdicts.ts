import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Basis } from "../reference/basis.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Condition } from "./condition.ts";
import type { CureFits } from "./cure-fit.ts";
import type { Effluent } from "./effluent.ts";
import type { Lateral } from "./lateral.ts";
import { lookAgain } from "./look-again.ts";
import { type MainDay, mainDayOf } from "./main-wait.ts";
import type { Reason } from "./reason.ts";
import type { FactInputs } from "./rule-facts.ts";
import {
  type AddedWork,
  addedBy,
  type RuleBook,
  type RuleReasons,
  type RuleVerdict,
  reasonsOn,
  verdictOn,
} from "./rules.ts";
import type { Sections } from "./sections.ts";
import type { Walls } from "./walls.ts";

/** Whether a treatment may be done to this lateral, and why or why not. */
export interface Verdict {
  readonly treatment: TreatmentKind;
  readonly eligible: boolean;
  /** Eligible only because a person decided it, against the rules of preference that the reasons name. */
  readonly againstRules: boolean;
  readonly reasons: readonly Reason[];
  /** Works to do before its own, each with the rule that asks for it. */
  readonly first: readonly AddedWork[];
}

/**
 * A verdict on each treatment: what the rules say (shared/treatment-rules.json, or the program's own), and whether its liners can be designed and
 * brought in. What is unknown never makes a treatment eligible. A person's decision opens a treatment that the rules only do not prefer; it never
 * opens one that safety, or a liner nobody can place, forbids. At least one treatment always is eligible: where nothing else may be done, the
 * lateral is looked at first; but where only its main is waited for, another look adds nothing, and what follows the main is planned: the season
 * holds it back until then.
 */
export function judgeTreatments(
  lateral: Lateral,
  condition: Condition,
  effluent: Effluent,
  walls: Walls,
  cures: CureFits,
  sections: Sections,
  basis: Pick<
    Basis,
    "program" | "treatments" | "liners" | "effluents" | "assumptions" | "mainsLined" | "calendar"
  >,
  rules: RuleBook,
): readonly Verdict[] {
  const { treatments, liners } = basis;
  const main = mainDayOf(
    {
      lateral: lateral.id,
      district: lateral.district,
      mainLining: lateral.mainLining?.value ?? "",
    },
    basis,
  );
  const place: Place = {
    main,
    condition,
    sections,
    treatments,
    walls,
    blocks: {
      "full-length": placingBlocks("full-length", walls, cures, liners),
      section: placingBlocks("section", walls, cures, liners),
      connection: placingBlocks("connection", walls, cures, liners),
      "one-piece": placingBlocks("one-piece", walls, cures, liners),
    },
    facts: {
      lateral,
      condition,
      effluent,
      basis,
      thresholds: treatments.thresholds,
      connectionFollowsMain: main.kind === "from",
      liningImpossible: () => place.blocks["full-length"].some(({ code }) => !answerable.has(code)),
    },
    rules,
  };
  const decided = lateral.decided.treatment?.value ?? null;
  const judged = judgeAll(decided, place);
  if (judged.some(isEligible)) return judged;
  if (main.kind === "not this season") {
    const afterMain = judgeAll(decided, {
      ...place,
      facts: { ...place.facts, connectionFollowsMain: true },
    });
    if (afterMain.some(isEligible)) return afterMain;
  }
  return judged.map((verdict) =>
    verdict.treatment === "inspect first"
      ? new Judged("inspect first", "nothing else allowed", true, false, verdict.adding, place)
      : verdict,
  );
}

const isEligible = ({ eligible }: Verdict): boolean => eligible;

function judgeAll(decided: TreatmentKind | null, place: Place): readonly Judged[] {
  const answers = place.rules.answersFor(place.facts);
  return treatmentKinds.map((treatment) =>
    judge(treatment, verdictOn(place.rules, treatment, answers), decided === treatment, place),
  );
}

/** What a verdict rests on, which its reasons are worded from. */
type Ground = "open" | "against" | "no wall was asked for" | "nothing else allowed";

interface Place {
  readonly main: MainDay;
  readonly condition: Condition;
  readonly sections: Sections;
  readonly treatments: Basis["treatments"];
  readonly walls: Walls;
  /** What forbids placing a liner of each use. */
  readonly blocks: Readonly<Record<PlannedUse, readonly Reason[]>>;
  readonly facts: FactInputs;
  readonly rules: RuleBook;
}

function judge(treatment: TreatmentKind, said: RuleVerdict, isDecided: boolean, place: Place): Judged {
  const works = place.treatments.works[treatment];
  const { sections } = place;
  let blocked = false;
  let unfit = false;
  let undesigned = false;
  for (const work of works) {
    blocked ||= designBlocks(work, place).length > 0;
    undesigned ||= isUndesigned(work, place);
    if (work === "sectional liner") unfit = sections.against.length > 0;
  }
  if (!said.against && !blocked && !unfit)
    return undesigned
      ? new Judged(treatment, "no wall was asked for", false, false, said.adding, place)
      : new Judged(treatment, "open", true, false, said.adding, place);
  // Without pieces there is nothing to place, whoever decides it.
  const unplaced = unfit && sections.pieces === null;
  const decided = isDecided && !said.forbidden && !blocked && !undesigned && !unplaced;
  return new Judged(treatment, "against", decided, decided, said.adding, place);
}

/** A verdict whose reasons and first works are put together when somebody asks: measured, that is a fifth of the whole plan's time. */
class Judged implements Verdict {
  readonly treatment: TreatmentKind;
  readonly eligible: boolean;
  readonly againstRules: boolean;
  /** Places of the rules that add a work before its own. */
  readonly adding: readonly number[];
  readonly #ground: Ground;
  readonly #place: Place;
  #said: RuleReasons | null = null;

  constructor(
    treatment: TreatmentKind,
    ground: Ground,
    eligible: boolean,
    againstRules: boolean,
    adding: readonly number[],
    place: Place,
  ) {
    this.treatment = treatment;
    this.eligible = eligible;
    this.againstRules = againstRules;
    this.adding = adding;
    this.#ground = ground;
    this.#place = place;
  }

  get first(): readonly AddedWork[] {
    const { rules, facts } = this.#place;
    if (this.adding.length === 0) return NO_WORKS;
    return this.adding.map((i) => addedBy(rules, i, facts));
  }

  get reasons(): readonly Reason[] {
    const { treatment } = this;
    const place = this.#place;
    switch (this.#ground) {
      case "open":
        return [...ownReasons(treatment, place), ...this.#rules.because];
      case "against": {
        const works = place.treatments.works[treatment];
        const unfit = works.includes("sectional liner") ? place.sections.against : [];
        return [...this.#rules.against, ...works.flatMap((work) => designBlocks(work, place)), ...unfit];
      }
      case "no wall was asked for":
      case "nothing else allowed":
        return [{ code: this.#ground }];
      default:
        return this.#ground satisfies never;
    }
  }

  get #rules(): RuleReasons {
    const { rules, facts } = this.#place;
    this.#said ??= reasonsOn(rules, this.treatment, facts);
    return this.#said;
  }
}

/** Why an eligible treatment is offered, in more than a rule can say: which survey asks for another look, and when to look again. */
function ownReasons(treatment: TreatmentKind, place: Place): readonly Reason[] {
  const { condition, treatments, sections } = place;
  switch (treatment) {
    case "inspect first":
      return condition.reinspect;
    case "leave and re-inspect":
      return [{ code: "leave", ...lookAgain(condition, treatments) }];
    case "sectional liner":
    case "sectional and connection liner":
      return [...sections.because, ...afterMain(place)];
    default:
      return afterMain(place);
  }
}

function afterMain({ main }: Place): readonly Reason[] {
  return main.kind === "no wait"
    ? NOTHING
    : [{ code: "after its main", from: main.kind === "from" ? main.day : null }];
}

/** The system that a work's liner is of. */
const useOfWork: Readonly<Partial<Record<WorkKind, PlannedUse>>> = {
  "sectional liner": "section",
  "full-length liner": "full-length",
  "connection liner": "connection",
  "one-piece liner": "one-piece",
};

/** Why the liner of a work cannot be designed or cured. No decision changes that: another system may. */
function designBlocks(work: WorkKind, { blocks }: Place): readonly Reason[] {
  const use = useOfWork[work];
  return use === undefined ? NOTHING : blocks[use];
}

const NOTHING: readonly Reason[] = [];
const NO_WORKS: readonly AddedWork[] = [];

/** Whether the surveys' grades asked for no wall of the work's liner: see designWalls. */
function isUndesigned(work: WorkKind, { walls }: Place): boolean {
  const use = useOfWork[work];
  return use !== undefined && walls[use].kind === "not asked";
}

/** What forbids placing a liner of this use beside the rules: no system, no wall, or a cure that does not fit. */
function placingBlocks(
  use: PlannedUse,
  walls: Walls,
  cures: CureFits,
  liners: Basis["liners"],
): readonly Reason[] {
  if (liners[use] === null) return [{ code: "no system for use", use }];
  const wall = walls[use];
  return wall.kind === "refused" ? wall.reasons : (cures[use]?.against ?? []);
}

/** Reasons that an answer, another resin or another cure can lift: no pipe is dug up for them. */
const answerable: ReadonlySet<Reason["code"]> = new Set([
  "host diameter unknown",
  "no long-term modulus",
  "rail load left to an engineer",
  "cure too hot for host",
  "resin not cured so",
  "wall too thick to cure",
]);
