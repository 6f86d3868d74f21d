import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Basis } from "../reference/basis.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Condition } from "./condition.ts";
import type { CureFits } from "./cure-fit.ts";
import type { Effluent } from "./effluent.ts";
import type { Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import { readFact } from "./rule-facts.ts";
import { type AddedWork, answerRules, type RuleBook } from "./rules.ts";
import { readerOf } from "./score-values.ts";
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
 * lateral is looked at first.
 */
export function judgeTreatments(
  lateral: Lateral,
  condition: Condition,
  effluent: Effluent,
  walls: Walls,
  cures: CureFits,
  sections: Sections,
  basis: Pick<Basis, "program" | "treatments" | "liners" | "effluents" | "assumptions">,
  rules: RuleBook,
): readonly Verdict[] {
  const { treatments, liners } = basis;
  const place = { lateral, condition, walls, cures, sections, treatments, liners };
  const facts = {
    lateral,
    condition,
    effluent,
    basis,
    thresholds: treatments.thresholds,
    liningImpossible: () => placingBlocks("full-length", place).some(({ code }) => !answerable.has(code)),
  };
  const known = readerOf(lateral, condition);
  const answers = answerRules(rules, (key) => readFact(key, facts) ?? known(key));

  const verdicts = treatmentKinds.map((treatment): Verdict => {
    const said = answers.verdictOn(treatment);
    const design = treatments.works[treatment].flatMap((work) => designBlocks(work, place));
    const unfit = treatments.works[treatment].includes("sectional liner") ? sections.against : [];
    const against = [...said.against, ...design, ...unfit];
    // Without pieces there is nothing to place, whoever decides it.
    const unplaced = unfit.length > 0 && sections.pieces === null;
    const first = answers.addedTo(treatment);
    const undesigned = treatments.works[treatment].some((work) => isUndesigned(work, place));
    if (undesigned && against.length === 0)
      return {
        treatment,
        eligible: false,
        againstRules: false,
        reasons: [{ code: "no wall was asked for" }],
        first,
      };
    if (against.length === 0) {
      const reasons = [...ownReasons(treatment, place), ...said.because];
      return { treatment, eligible: true, againstRules: false, reasons, first };
    }
    const decided =
      lateral.decided.treatment?.value === treatment &&
      !said.forbidden &&
      design.length === 0 &&
      !undesigned &&
      !unplaced;
    return { treatment, eligible: decided, againstRules: decided, reasons: against, first };
  });
  if (verdicts.some((verdict) => verdict.eligible)) return verdicts;
  return verdicts.map((verdict) =>
    verdict.treatment === "inspect first"
      ? { ...verdict, eligible: true, againstRules: false, reasons: [{ code: "nothing else allowed" }] }
      : verdict,
  );
}

interface Place {
  readonly lateral: Lateral;
  readonly condition: Condition;
  readonly walls: Walls;
  readonly cures: CureFits;
  readonly sections: Sections;
  readonly treatments: Basis["treatments"];
  readonly liners: Basis["liners"];
}

/** Why an eligible treatment is offered, in more than a rule can say: which survey asks for another look, and when to look again. */
function ownReasons(treatment: TreatmentKind, { condition, treatments, sections }: Place): readonly Reason[] {
  switch (treatment) {
    case "inspect first":
      return condition.reinspect;
    case "leave and re-inspect": {
      const { structural, om, connection, leading } = condition;
      const worst = Math.max(structural?.value ?? 0, om?.value ?? 0, connection?.value ?? 0);
      const years = treatments.reinspectAfterYears.byGrade[worst];
      if (years === undefined || leading === null)
        throw new RangeError(`ownReasons: a lateral left in grade ${worst} without a survey`);
      return [{ code: "leave", grade: worst, years, seen: leading.on }];
    }
    case "sectional liner":
    case "sectional and connection liner":
      return sections.because;
    default:
      return [];
  }
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
  return use === undefined ? [] : placingBlocks(use, place);
}

/** Whether the surveys' grades asked for no wall of the work's liner: see designWalls. */
function isUndesigned(work: WorkKind, { walls }: Place): boolean {
  const use = useOfWork[work];
  return use !== undefined && walls[use].kind === "not asked";
}

/** What forbids placing a liner of this use beside the rules: no system, no wall, or a cure that does not fit. */
function placingBlocks(use: PlannedUse, { walls, cures, liners }: Place): readonly Reason[] {
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
