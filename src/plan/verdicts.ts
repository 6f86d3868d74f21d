import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Basis } from "../reference/basis.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import type { TreatmentRules } from "../reference/treatment-rules.ts";
import type { Condition } from "./condition.ts";
import type { CureFits } from "./cure-fit.ts";
import type { Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import type { Sections } from "./sections.ts";
import { reachRefusals } from "./system-limits.ts";
import type { Walls } from "./walls.ts";

/** Whether a treatment may be done to this lateral, and why or why not. */
export interface Verdict {
  readonly treatment: TreatmentKind;
  readonly eligible: boolean;
  /** Eligible only because a person decided it, against the rules of preference that the reasons name. */
  readonly againstRules: boolean;
  readonly reasons: readonly Reason[];
}

/**
 * A verdict on each treatment. Eligible means that it answers what the surveys found and that nothing forbids it;
 * what is unknown never makes a treatment eligible. A person's decision opens a treatment that the rules only do not
 * prefer; it never opens one that safety or something unknown forbids. At least one treatment always is eligible:
 * where nothing else may be done, the lateral is looked at first.
 */
export function judgeTreatments(
  lateral: Lateral,
  condition: Condition,
  walls: Walls,
  cures: CureFits,
  rules: TreatmentRules,
  liners: Basis["liners"],
  sections: Sections,
): readonly Verdict[] {
  const context = { lateral, condition, walls, cures, rules, liners, sections };
  const verdicts = treatmentKinds.map((treatment): Verdict => {
    const { because, against } = judges[treatment](context);
    if (against.length === 0) return { treatment, eligible: true, againstRules: false, reasons: because };
    const decided =
      lateral.decided.treatment?.value === treatment && forbids[treatment](context).length === 0;
    return { treatment, eligible: decided, againstRules: decided, reasons: against };
  });
  if (verdicts.some((verdict) => verdict.eligible)) return verdicts;
  return verdicts.map((verdict) =>
    verdict.treatment === "inspect first"
      ? {
          treatment: "inspect first",
          eligible: true,
          againstRules: false,
          reasons: [{ code: "nothing else allowed" }],
        }
      : verdict,
  );
}

interface Context {
  readonly lateral: Lateral;
  readonly condition: Condition;
  readonly walls: Walls;
  readonly cures: CureFits;
  readonly rules: TreatmentRules;
  readonly liners: Basis["liners"];
  readonly sections: Sections;
}
/** Reasons for, and reasons against: one against is enough. */
interface Judgement {
  readonly because: readonly Reason[];
  readonly against: readonly Reason[];
}

const judges: Readonly<Record<TreatmentKind, (context: Context) => Judgement>> = {
  "inspect first": ({ lateral, condition, rules }) => {
    if (collapsedUnseen(condition, rules)) return refused({ code: "collapse is dug up" });
    const because: Reason[] = [...condition.reinspect];
    if (condition.state === "not inspected") because.push({ code: "not inspected" });
    if (condition.state === "surveyed in part") because.push({ code: "never surveyed whole" });
    const needsWork =
      repairNeeded(condition, rules) || (condition.om?.value ?? 0) >= rules.thresholds.cleanFromOm;
    if (needsWork) because.push(...crossBoreBlocks(lateral));
    if (needsWork && lateral.hostDiameter === null) because.push({ code: "host diameter unknown" });
    if (needsWork && lateral.hostLength === null) because.push({ code: "host length unknown" });
    return because.length > 0 ? { because, against: [] } : refused({ code: "survey stands" });
  },

  "leave and re-inspect": ({ condition, rules }) => {
    const { leaveUpToStructural, leaveUpToOm, connectionFrom } = rules.thresholds;
    if (condition.state !== "surveyed") return refused({ code: "never surveyed whole" });
    const { structural, om, connection } = condition;
    if (structural === null) return refused({ code: "grade unknown", what: "structural" });
    if (om === null) return refused({ code: "grade unknown", what: "operation and maintenance" });
    const against: Reason[] = [];
    if (structural.value > leaveUpToStructural)
      against.push(above("structural", structural.value, leaveUpToStructural));
    if (om.value > leaveUpToOm) against.push(above("operation and maintenance", om.value, leaveUpToOm));
    if (connection !== null && connection.value >= connectionFrom) {
      against.push(above("connection", connection.value, connectionFrom - 1));
    }
    const worst = Math.max(structural.value, om.value, connection?.value ?? 0);
    return {
      because: [{ code: "leave", grade: worst, years: rules.reinspectAfterYears.byGrade[worst] ?? 1 }],
      against,
    };
  },

  "clean and cut roots": ({ lateral, condition, rules }) => {
    const { om } = condition;
    if (om === null) return refused({ code: "grade unknown", what: "operation and maintenance" });
    if (om.value < rules.thresholds.cleanFromOm) {
      return refused({
        code: "grade below",
        what: "operation and maintenance",
        grade: om.value,
        limit: rules.thresholds.cleanFromOm,
      });
    }
    const against = cuttingBlocks(lateral);
    if (repairNeeded(condition, rules)) against.push({ code: "repair needed, cleaning is not enough" });
    return {
      because: [
        {
          code: "grade at least",
          what: "operation and maintenance",
          grade: om.value,
          limit: rules.thresholds.cleanFromOm,
        },
      ],
      against,
    };
  },

  "sectional liner": (context) => {
    const { condition, rules, sections } = context;
    const need = structuralNeed(condition.structural?.value ?? null, rules.thresholds.lineFromStructural);
    const against = [...need.against, ...liningBlocks(context, "section")];
    if (need.against.length === 0 || condition.defects === null) against.push(...sections.against);
    return { because: [...need.because, ...sections.because], against };
  },

  "full-length liner": (context) => {
    const need = structuralNeed(
      context.condition.structural?.value ?? null,
      context.rules.thresholds.lineFromStructural,
    );
    return {
      because: need.because,
      against: [...need.against, ...liningBlocks(context, "full-length")],
    };
  },

  "connection liner": (context) => {
    const { condition, rules } = context;
    const { connection, structural } = condition;
    const { connectionFrom, lineFromStructural } = rules.thresholds;
    if (connection === null) return refused({ code: "grade unknown", what: "connection" });
    if (connection.value < connectionFrom) {
      return refused({
        code: "grade below",
        what: "connection",
        grade: connection.value,
        limit: connectionFrom,
      });
    }
    const against = liningBlocks(context, "connection");
    if (structural !== null && structural.value >= lineFromStructural) {
      against.push({ code: "lateral needs more than its connection", grade: structural.value });
    }
    return {
      because: [
        { code: "grade at least", what: "connection", grade: connection.value, limit: connectionFrom },
      ],
      against,
    };
  },

  "open-cut replacement": (context) => {
    const { lateral, condition, rules } = context;
    const { digFromStructural, lineFromStructural } = rules.thresholds;
    const { structural } = condition;
    const against = diggingBlocks(lateral);
    if (structural === null) return refused({ code: "grade unknown", what: "structural" });
    if (structural.value >= digFromStructural) {
      return {
        because: [
          { code: "grade at least", what: "structural", grade: structural.value, limit: digFromStructural },
        ],
        against,
      };
    }
    if (structural.value >= lineFromStructural) {
      const lasting = placingBlocks(context, "full-length").filter(({ code }) => !answerable.has(code));
      if (lasting.length > 0) return { because: [{ code: "cannot be lined" }, ...lasting], against };
    }
    return refused({
      code: "grade below",
      what: "structural",
      grade: structural.value,
      limit: digFromStructural,
    });
  },
};

/** What forbids a treatment whatever anybody prefers: safety, and what must be known to do it. */
const forbids: Readonly<Record<TreatmentKind, (context: Context) => readonly Reason[]>> = {
  "inspect first": () => [],
  "leave and re-inspect": () => [],
  "clean and cut roots": ({ lateral }) => cuttingBlocks(lateral),
  "sectional liner": (context) => [
    ...liningBlocks(context, "section"),
    ...(context.sections.pieces === null ? context.sections.against : []),
  ],
  "full-length liner": (context) => liningBlocks(context, "full-length"),
  "connection liner": (context) => liningBlocks(context, "connection"),
  "open-cut replacement": ({ lateral }) => diggingBlocks(lateral),
};

/** Whether the surveys ask for more than cleaning. */
function repairNeeded({ structural, connection }: Condition, rules: TreatmentRules): boolean {
  return (
    (structural?.value ?? 0) >= rules.thresholds.lineFromStructural ||
    (connection?.value ?? 0) >= rules.thresholds.connectionFrom
  );
}

/** A camera that could not pass a pipe in the worst grade has seen enough: another look finds the same collapse. */
function collapsedUnseen({ state, structural, reinspect }: Condition, rules: TreatmentRules): boolean {
  const stopped =
    state === "surveyed in part" || reinspect.some((reason) => reason.code === "survey stopped");
  return stopped && (structural?.value ?? 0) >= rules.thresholds.digFromStructural;
}

function structuralNeed(grade: number | null, limit: number): Judgement {
  if (grade === null) return refused({ code: "grade unknown", what: "structural" });
  return grade >= limit
    ? { because: [{ code: "grade at least", what: "structural", grade, limit }], against: [] }
    : refused({ code: "grade below", what: "structural", grade, limit });
}

/** Reasons that an answer, another resin or another cure can lift: no pipe is dug up for them. */
const answerable: ReadonlySet<Reason["code"]> = new Set([
  "host diameter unknown",
  "effluent refused",
  "effluent not resisted",
  "effluent over rating",
  "no long-term modulus",
  "rail load left to an engineer",
  "cure too hot for host",
  "resin not cured so",
  "wall too thick to cure",
]);

/** What forbids placing a liner of this use: no wall, a cure that does not fit, or no way through for the system. */
function placingBlocks({ lateral, walls, cures, liners }: Context, use: PlannedUse): Reason[] {
  const wall = walls[use];
  const reasons = wall.kind === "refused" ? wall.reasons : (cures[use]?.against ?? []);
  return [...reasons, ...reachRefusals(lateral, use, liners[use])];
}

/** What forbids lining: an unclear gas cross-bore, an unseen pipe, no wall, no way through, no length. */
function liningBlocks(context: Context, use: PlannedUse): Reason[] {
  const { lateral, condition } = context;
  const against: Reason[] = [...crossBoreBlocks(lateral), ...asbestosBlocks(lateral)];
  if (condition.state === "not inspected") against.push({ code: "not inspected" });
  if (condition.state === "surveyed in part") against.push({ code: "never surveyed whole" });
  // A newer survey that could not get through says that the pipe has changed.
  if (condition.state === "surveyed")
    against.push(...condition.reinspect.filter((reason) => reason.code === "survey stopped"));
  against.push(...placingBlocks(context, use));
  against.push(...lengthUnknown(lateral));
  return against;
}

function crossBoreBlocks({ crossBore }: Lateral): Reason[] {
  if (crossBore === null) return [{ code: "cross-bore not cleared", known: false }];
  switch (crossBore.value) {
    case "cleared":
      return [];
    case "found":
      return [{ code: "cross-bore found" }];
    case "not cleared":
      return [{ code: "cross-bore not cleared", known: true }];
    default:
      return crossBore.value satisfies never;
  }
}

const cuttingBlocks = (lateral: Lateral): Reason[] => [
  ...crossBoreBlocks(lateral),
  ...asbestosBlocks(lateral),
  ...lengthUnknown(lateral),
];

/** Digging needs no cleared cross-bore, but none that was found; utilities are located before any digging. */
function diggingBlocks(lateral: Lateral): Reason[] {
  const against = lengthUnknown(lateral);
  if (lateral.hostDiameter === null) against.push({ code: "host diameter unknown" });
  if (lateral.crossBore?.value === "found") against.push({ code: "cross-bore found" });
  return against;
}

const asbestosBlocks = (lateral: Lateral): Reason[] =>
  lateral.hostMaterial?.value === "asbestos cement" ? [{ code: "asbestos host" }] : [];

const lengthUnknown = (lateral: Lateral): Reason[] =>
  lateral.hostLength === null ? [{ code: "host length unknown" }] : [];

const refused = (...against: Reason[]): Judgement => ({ because: [], against });

const above = (what: string, grade: number, limit: number): Reason => ({
  code: "grade above",
  what,
  grade,
  limit,
});
