import type { ExplainedSeason } from "../season/season-reasons.ts";
import type { Clash } from "../season/selection/clash.ts";
import type { PackedRule } from "../season/selection/packed-rule.ts";
import type { PackedSelection } from "../season/selection/select-packed.ts";
import type { SelectionProblem } from "../season/selection/selection-problem.ts";

/** A season to solve and how its visits are packed. */
export interface SeasonToSolve {
  readonly problem: SelectionProblem;
  readonly packed: PackedRule;
}

/** What the thread that selects is given: seasons to solve one after another, over the same arrays. */
export interface SeasonWork {
  readonly seasons: readonly SeasonToSolve[];
  readonly gap: number;
  readonly nodes: number;
  /** Whether why each lateral is in or out is worked out too. */
  readonly explain?: boolean;
  /** One shared whole number; anything but 0 asks it to stop. */
  readonly stop: Int32Array<SharedArrayBuffer>;
}

export interface Solved {
  readonly selection: PackedSelection;
  /** What clashes, where no choice keeps the rules. */
  readonly clash: Clash | null;
  /** Null where there is no season, or nobody asked. */
  readonly explained: ExplainedSeason | null;
}

export type SeasonMessage =
  | { readonly kind: "progress"; readonly season: number; readonly worth: number; readonly bound: number }
  | { readonly kind: "solved"; readonly season: number; readonly solved: Solved };
