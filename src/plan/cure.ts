import { scheduleCure } from "../engineering/cure-schedule.ts";
import { type Celsius, type Millimetres, type Minutes, millimetres, minutes } from "../quantity/si.ts";
import type { ChosenLiner } from "../reference/basis.ts";
import { cureComparison } from "../reference/cure-methods.ts";
import { cureSteps } from "./cure-steps.ts";
import type { Liner } from "./liner.ts";
import { hasPartInMain } from "./part-in-main.ts";

/** One part of a cure, with its least time. Temperatures are null where none is followed. */
export interface CurePart {
  readonly what: "heat up" | "hold" | "cool down" | "wait until hard" | "look by camera" | "lights travel";
  readonly from: Celsius | null;
  readonly to: Celsius | null;
  readonly time: Minutes;
}

/** How one liner is hardened, for planning a crew's time: the supplier's schedule and the temperature at the host govern. */
export interface CurePlan {
  readonly method: ChosenLiner["cure"]["key"];
  readonly parts: readonly CurePart[];
  /** Until the wall is hard. */
  readonly curing: Minutes;
  /** Until the pressure may be let go. */
  readonly coolDown: Minutes;
  readonly total: Minutes;
  /** A time often quoted for such a liner, and ours over it; null where none is quoted. It enters nothing. */
  readonly compared: { readonly label: string; readonly ratio: number } | null;
}

/**
 * The program's cure of one liner.
 *
 * @throws RangeError for a resin or wall the cure has no schedule of: the verdicts refuse such a liner
 */
export function planCure(
  liner: NonNullable<Liner>,
  { cure, resin }: Pick<ChosenLiner, "cure" | "resin">,
): CurePlan {
  const wall = hasPartInMain(liner) ? millimetres(Math.max(liner.wall, liner.mainWall)) : liner.wall;
  const steps = cureSteps(cure, resin.key, wall, liner.cutLength);
  if (steps.kind === "refused")
    throw new RangeError(`planCure: ${cure.key} has no schedule of ${resin.key} at ${wall} mm`);
  if (steps.kind === "light") return planSteps(steps, cure, wall);
  let plan = plans.get(steps);
  if (plan === undefined) {
    plan = planSteps(steps, cure, wall);
    plans.set(steps, plan);
  }
  return plan;
}

type Steps = Exclude<ReturnType<typeof cureSteps>, { kind: "refused" }>;

/** By steps: those of one cure, resin and wall are one object. */
const plans = new WeakMap<Steps, CurePlan>();

function planSteps(steps: Steps, cure: ChosenLiner["cure"], wall: Millimetres): CurePlan {
  const parts = partsOf(steps);
  const coolDown = sum(parts.filter(({ what }) => what === "cool down"));
  const total = sum(parts);
  const quoted = cure.kind !== "stated" && cure.key === cureComparison.method;
  return {
    method: cure.key,
    parts,
    curing: minutes(total - coolDown),
    coolDown,
    total,
    compared:
      quoted && wall <= cureComparison.thickest
        ? { label: cureComparison.label, ratio: total / cureComparison.minutes }
        : null,
  };
}

function partsOf(steps: Steps): readonly CurePart[] {
  switch (steps.kind) {
    case "ambient":
      return [{ what: "wait until hard", from: steps.at, to: steps.at, time: steps.wait }];
    case "light":
      return [
        { what: "look by camera", from: null, to: null, time: steps.look },
        { what: "lights travel", from: null, to: null, time: steps.lights },
        { what: "cool down", from: null, to: null, time: steps.cooling },
      ];
    case "heated":
      return scheduleCure(steps.start, steps.steps).legs.map((leg) => ({
        ...leg,
        what: LEG_WORDS[leg.kind],
      }));
    default:
      return steps satisfies never;
  }
}

const LEG_WORDS = { heat: "heat up", hold: "hold", cool: "cool down" } as const;

const sum = (parts: readonly CurePart[]): Minutes =>
  minutes(parts.reduce((total, { time }) => total + time, 0));
