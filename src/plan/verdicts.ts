import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Basis } from "../reference/basis.ts";
import { type PlannedUse, plannedUses } from "../reference/liner-systems.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Condition } from "./condition.ts";
import type { CureFits } from "./cure-fit.ts";
import type { Effluent } from "./effluent.ts";
import type { Lateral } from "./lateral.ts";
import { lookAgain } from "./look-again.ts";
import { type MainDay, mainDayOfLateral } from "./main-wait.ts";
import { NO_WALLS } from "./no-walls.ts";
import type { Reason } from "./reason.ts";
import type { FactInputs } from "./rule-facts.ts";
import {
  type AddedWork,
  addedBy,
  type RuleBook,
  type RulesSaid,
  reasonsOn,
  rulesAdding,
  treatmentBit,
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

/** The verdicts on one lateral. A plan asks for what is offered; what is refused is judged when somebody asks why. */
export interface Verdicts {
  /** On what may be done; at least one. */
  readonly offered: readonly Verdict[];
  /** On every treatment, in the order of `treatmentKinds`. */
  readonly all: readonly Verdict[];
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
  basis: JudgedBasis,
  rules: RuleBook,
): Verdicts {
  const main = mainDayOfLateral(lateral, basis);
  const place = new Place(lateral, condition, effluent, walls, cures, sections, basis, rules, main);
  const judged = new Judgement(place);
  if (judged.offered.length > 0) return judged;
  if (main.kind === "not this season") {
    const afterMain = new Judgement(place.afterItsMain());
    if (afterMain.offered.length > 0) return afterMain;
  }
  const look = new Judged("inspect first", "nothing else allowed", false, null, place);
  return {
    offered: [look],
    all: judged.all.map((verdict) => (verdict.treatment === look.treatment ? look : verdict)),
  };
}

/** Judged as sets of treatments (see treatmentBit): of thirteen one or two are offered, and a verdict on each took a twentieth of the plan's time. */
class Judgement implements Verdicts {
  readonly offered: readonly Verdict[];
  readonly #against: number;
  readonly #place: Place;

  constructor(place: Place) {
    const { rules, sections, basis, lateral } = place;
    const said = rules.ask(place);
    const { ofUse, ofAnyUse, ofNoSystem, ofSections } = linedBy(basis);
    // The surveys' grades asked for no wall of such a liner: see designWalls.
    let undesigned = ofAnyUse;
    let blocked = ofNoSystem;
    if (place.walls !== NO_WALLS) {
      undesigned = 0;
      for (let i = 0; i < plannedUses.length; i++) {
        const use = plannedUses[i]!;
        // What the rules refuse already no wall makes more refused; of what a person wishes it must be known whether it can be placed.
        if (lateral.decided.treatment === null && (ofUse[i]! & ~said.against) === 0) continue;
        if (place.walls[use].kind === "not asked") undesigned |= ofUse[i]!;
        if (place.blocks(use).length > 0) blocked |= ofUse[i]!;
      }
    }
    const unfit = sections.against.length > 0 ? ofSections : 0;
    // Without pieces there is nothing to place, whoever decides it.
    const unplaced = sections.pieces === null ? unfit : 0;
    const against = said.against | blocked | unfit;
    const undecidable = said.forbidden | blocked | undesigned | unplaced;
    const wish = lateral.decided.treatment;
    const decided = wish === null ? 0 : treatmentBit(wish.value) & against & ~undecidable;
    this.offered = offeredOf((ALL & ~(against | undesigned)) | decided, decided, said, place);
    this.#against = against;
    this.#place = place;
  }

  get all(): readonly Verdict[] {
    const offerOf = (treatment: TreatmentKind) => this.offered.find((offer) => offer.treatment === treatment);
    return treatmentKinds.map((treatment) => offerOf(treatment) ?? this.#refusalOf(treatment));
  }

  #refusalOf(treatment: TreatmentKind): Judged {
    const ground = (this.#against & treatmentBit(treatment)) === 0 ? "no wall was asked for" : "against";
    return new Judged(treatment, ground, false, null, this.#place);
  }
}

const ALL = treatmentKinds.reduce((set, treatment) => set | treatmentBit(treatment), 0);

/** @param decided of what is offered, what only a decision opens */
function offeredOf(offered: number, decided: number, said: RulesSaid, place: Place): readonly Judged[] {
  const found: Judged[] = [];
  for (let i = 0; i < treatmentKinds.length; i++) {
    const bit = 1 << i;
    if ((offered & bit) === 0) continue;
    const treatment = treatmentKinds[i]!;
    const isDecided = bit === decided;
    const adding = (said.adding & bit) === 0 ? NO_RULES : rulesAdding(place.rules, treatment, said);
    found.push(new Judged(treatment, isDecided ? "against" : "open", isDecided, adding, place));
  }
  return found;
}

/** Which treatments line with what, as sets (see treatmentBit). */
interface LinedBy {
  readonly works: JudgedBasis["treatments"]["works"] | null;
  readonly liners: JudgedBasis["liners"] | null;
  /** By place in `plannedUses`. */
  readonly ofUse: readonly number[];
  readonly ofAnyUse: number;
  /** Of uses that the program names no system for. */
  readonly ofNoSystem: number;
  readonly ofSections: number;
}

/** The tables asked about last: a program has one of each. */
let lined: LinedBy = { works: null, liners: null, ofUse: [], ofAnyUse: 0, ofNoSystem: 0, ofSections: 0 };

function linedBy({ treatments: { works }, liners }: JudgedBasis): LinedBy {
  if (lined.works === works && lined.liners === liners) return lined;
  const doing = (isIt: (work: WorkKind) => boolean) =>
    treatmentKinds.reduce((set, each) => (works[each].some(isIt) ? set | treatmentBit(each) : set), 0);
  const lining = (isIt: (use: PlannedUse) => boolean) =>
    doing((work) => {
      const use = useOfWork[work];
      return use !== undefined && isIt(use);
    });
  lined = {
    works,
    liners,
    ofUse: plannedUses.map((use) => lining((each) => each === use)),
    ofAnyUse: lining(() => true),
    ofNoSystem: lining((use) => liners[use] === null),
    ofSections: doing((work) => work === "sectional liner"),
  };
  return lined;
}

const NO_RULES: readonly number[] = [];

/** What a verdict rests on, which its reasons are worded from. */
type Ground = "open" | "against" | "no wall was asked for" | "nothing else allowed";

type JudgedBasis = Pick<
  Basis,
  "program" | "treatments" | "liners" | "effluents" | "assumptions" | "mainsLined" | "calendar"
>;

/** One lateral as its verdicts look at it, and what the rules ask of it. */
class Place implements FactInputs {
  readonly lateral: Lateral;
  readonly condition: Condition;
  readonly effluent: Effluent;
  readonly walls: Walls;
  readonly cures: CureFits;
  readonly sections: Sections;
  readonly basis: JudgedBasis;
  readonly rules: RuleBook;
  readonly main: MainDay;
  readonly thresholds: JudgedBasis["treatments"]["thresholds"];
  readonly connectionFollowsMain: boolean;

  constructor(
    lateral: Lateral,
    condition: Condition,
    effluent: Effluent,
    walls: Walls,
    cures: CureFits,
    sections: Sections,
    basis: JudgedBasis,
    rules: RuleBook,
    main: MainDay,
    connectionFollowsMain = main.kind === "from",
  ) {
    this.lateral = lateral;
    this.condition = condition;
    this.effluent = effluent;
    this.walls = walls;
    this.cures = cures;
    this.sections = sections;
    this.basis = basis;
    this.rules = rules;
    this.main = main;
    this.thresholds = basis.treatments.thresholds;
    this.connectionFollowsMain = connectionFollowsMain;
  }

  /** The same, as if its main were lined in this season. */
  afterItsMain(): Place {
    const { lateral, condition, effluent, walls, cures, sections, basis, rules, main } = this;
    return new Place(lateral, condition, effluent, walls, cures, sections, basis, rules, main, true);
  }

  liningImpossible(): boolean {
    return this.blocks("full-length").some(({ code }) => !answerable.has(code));
  }

  /** What forbids placing a liner of this use beside the rules: no system, no wall, or a cure that does not fit. */
  blocks(use: PlannedUse): readonly Reason[] {
    if (this.basis.liners[use] === null) return noSystemFor[use];
    const wall = this.walls[use];
    return wall.kind === "refused" ? wall.reasons : (this.cures[use]?.against ?? NOTHING);
  }
}

/** A verdict whose reasons and first works are put together when somebody asks: measured, that is a fifth of the whole plan's time. */
class Judged implements Verdict {
  readonly treatment: TreatmentKind;
  readonly eligible: boolean;
  readonly againstRules: boolean;
  /** Places of the rules that add a work before its own; null where they are looked for when somebody asks: it is no offer. */
  readonly #adding: readonly number[] | null;
  readonly #ground: Ground;
  readonly #place: Place;

  constructor(
    treatment: TreatmentKind,
    ground: Ground,
    againstRules: boolean,
    adding: readonly number[] | null,
    place: Place,
  ) {
    this.treatment = treatment;
    this.eligible = againstRules || ground === "open" || ground === "nothing else allowed";
    this.againstRules = againstRules;
    this.#adding = adding;
    this.#ground = ground;
    this.#place = place;
  }

  get first(): readonly AddedWork[] {
    const place = this.#place;
    const { rules } = place;
    const adding = this.#adding ?? rulesAdding(rules, this.treatment, rules.ask(place));
    return adding.length === 0 ? NO_WORKS : adding.map((i) => addedBy(rules, i, place));
  }

  get reasons(): readonly Reason[] {
    const { treatment } = this;
    const place = this.#place;
    switch (this.#ground) {
      case "open":
        return [...ownReasons(treatment, place), ...reasonsOn(place.rules, treatment, place).because];
      case "against": {
        const works = place.basis.treatments.works[treatment];
        const unfit = works.includes("sectional liner") ? place.sections.against : [];
        return [
          ...reasonsOn(place.rules, treatment, place).against,
          ...works.flatMap((work) => designBlocks(work, place)),
          ...unfit,
        ];
      }
      case "no wall was asked for":
      case "nothing else allowed":
        return [{ code: this.#ground }];
      default:
        return this.#ground satisfies never;
    }
  }
}

/** Why an eligible treatment is offered, in more than a rule can say: which survey asks for another look, and when to look again. */
function ownReasons(treatment: TreatmentKind, place: Place): readonly Reason[] {
  const { condition, basis, sections } = place;
  switch (treatment) {
    case "inspect first":
      return condition.reinspect;
    case "leave and re-inspect":
      return [{ code: "leave", ...lookAgain(condition, basis.treatments) }];
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
function designBlocks(work: WorkKind, place: Place): readonly Reason[] {
  const use = useOfWork[work];
  return use === undefined ? NOTHING : place.blocks(use);
}

const NOTHING: readonly Reason[] = [];
const NO_WORKS: readonly AddedWork[] = [];

const noSystemFor = Object.fromEntries(
  plannedUses.map((use) => [use, [{ code: "no system for use", use }]]),
) as unknown as Readonly<Record<PlannedUse, readonly Reason[]>>;

/** Reasons that an answer, another resin or another cure can lift: no pipe is dug up for them. */
const answerable: ReadonlySet<Reason["code"]> = new Set([
  "host diameter unknown",
  "no long-term modulus",
  "rail load left to an engineer",
  "cure too hot for host",
  "resin not cured so",
  "wall too thick to cure",
]);
