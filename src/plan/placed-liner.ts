import { type Basis, type ChosenLiner, chosenFor } from "../reference/basis.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import type { Condition } from "./condition.ts";
import { type CurePlan, planCure } from "./cure.ts";
import type { CureFits } from "./cure-fit.ts";
import { compareFlow, type FlowChange } from "./flow.ts";
import { checkForces, type PlacingForces } from "./forces.ts";
import type { Lateral } from "./lateral.ts";
import { type Liner, longestPiece, piecesIn, useOf } from "./liner.ts";
import type { LinerTimes } from "./step-minutes.ts";
import { type LinerWalls, type Walls, wallsOf } from "./walls.ts";
import { insertionTime, type WetOut, wetOutLiner } from "./wet-out.ts";

/** Where a liner is placed. */
export interface LinerPlace {
  readonly lateral: Lateral;
  readonly condition: Condition;
  readonly walls: Walls;
  readonly cureFits: CureFits;
  readonly basis: Basis;
}

/**
 * What placing a liner takes: its resin, its cure, its forces, and the flow after it. Several sections are placed one after
 * another: resin is that of all, times and forces are of the longest. Totals ask for resin and times only.
 */
export class PlacedLiner {
  readonly use: PlannedUse;
  readonly #liner: NonNullable<Liner>;
  /** What one placing handles of it. */
  readonly #piece: NonNullable<Liner>;
  readonly #chosen: ChosenLiner;
  readonly #walls: LinerWalls;
  readonly #place: LinerPlace;
  #wetOutOfPiece: WetOut | null = null;
  #wetOut: WetOut | null = null;
  #cure: CurePlan | null = null;
  #forces: PlacingForces | null = null;
  #flow: FlowChange | null = null;
  #times: LinerTimes | null = null;

  constructor(liner: NonNullable<Liner>, place: LinerPlace) {
    const use = useOf[liner.kind];
    const walls = wallsOf(place.walls, use);
    if (walls === null)
      throw new RangeError(`PlacedLiner: a ${liner.kind} liner in ${place.lateral.id} without a wall`);
    this.use = use;
    this.#liner = liner;
    this.#piece = longestPiece(liner);
    this.#chosen = chosenFor(place.basis.liners, use);
    this.#walls = walls;
    this.#place = place;
  }

  get wall() {
    return this.#walls[0];
  }

  get wetOut(): WetOut {
    this.#wetOut ??=
      this.#piece === this.#liner
        ? this.#ofPiece
        : { ...this.#wetOutOf(this.#liner), potLife: this.#ofPiece.potLife };
    return this.#wetOut;
  }

  /** Resin of the piece: what is pulled in weighs so much, and is mixed at one time. */
  get #ofPiece(): WetOut {
    this.#wetOutOfPiece ??= this.#wetOutOf(this.#piece);
    return this.#wetOutOfPiece;
  }

  #wetOutOf(liner: NonNullable<Liner>): WetOut {
    const { lateral, basis } = this.#place;
    return wetOutLiner(liner, lateral.hostDiameter?.value ?? null, this.#chosen, basis);
  }

  get cure(): CurePlan {
    this.#cure ??= planCure(this.#piece, this.#chosen);
    return this.#cure;
  }

  get cureFit() {
    return this.#place.cureFits[this.use];
  }

  get forces(): PlacingForces {
    const { lateral, basis } = this.#place;
    this.#forces ??= checkForces(this.#piece, this.#ofPiece, this.#walls, lateral, this.#chosen, basis);
    return this.#forces;
  }

  get flow(): FlowChange {
    const { lateral, condition, basis } = this.#place;
    this.#flow ??= compareFlow(this.#liner, lateral, condition, basis);
    return this.#flow;
  }

  get times(): LinerTimes {
    this.#times ??= {
      insertion: insertionTime(this.#piece.cutLength, this.#place.basis),
      cure: this.cure.curing,
      "cool-down": this.cure.coolDown,
    };
    return this.#times;
  }

  get pieces(): number {
    return piecesIn(this.#liner);
  }
}
