import { type IssuedNumbers, NOTHING_ISSUED } from "../bidding/issued-numbers.ts";
import type { Column } from "../columns/column.ts";
import { explainLateral } from "../plan/explain.ts";
import { planLateral } from "../plan/plan-lateral.ts";
import { keyOf } from "../screen/keymap.ts";
import { type ProgramView, viewProgram } from "../screen/program-view.ts";
import type { Answer, OutsideEffect } from "../screen/session.ts";
import { lateralAt } from "../season/lateral-at.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { readSheet } from "../season/read-planned.ts";
import { missingNumbers, withColumns } from "../sheet/table.ts";
import { acceptRecipe } from "./accept-recipe.ts";
import type { SeasonToPlace } from "./current-season.ts";
import { describeDiskError } from "./disk-error.ts";
import { explainOwnColumns } from "./explain-own-columns.ts";
import { explainSeason } from "./explain-season.ts";
import { LivePanes } from "./live-panes.ts";
import { Settler } from "./settle-program.ts";
import { checkValue, performInSheet, type SheetWriter } from "./sheet-edits.ts";
import { formulaHelp } from "./sheet-formulas.ts";
import type { SheetRights } from "./sheet-rights.ts";

/** How long after the last decision the whole is planned anew, in ms: nobody should see numbers move while typing. */
const SETTLE_AFTER = 400;
const STALE = "fits and ranks follow";

const answer = (notice: string): Answer => ({
  kind: "answer",
  notice,
  refused: [],
  row: null,
  newColumn: null,
});

/** Where a sheet's program lies, and what is saved there. */
export interface SheetPlace {
  /** For the panes that read saved runs and seasons; null where there is none. */
  readonly folder: string | null;
  /** For the columns of the season. */
  readonly season: SeasonToPlace | null;
  /** Whether nothing was decided or saved in it yet: then the first steps are shown. */
  readonly isNew: boolean;
  /** Item numbers that bidders have. */
  readonly issued: IssuedNumbers;
}

export const noPlace: SheetPlace = { folder: null, season: null, isNew: false, issued: NOTHING_ISSUED };

/**
 * The program under the sheet. A decision is written down and its row planned again at once; fits, ranks and batches
 * follow when nobody has decided anything for a moment, planned anew in a thread of its own. The rows stay where they
 * are until somebody asks for another order.
 */
export class LiveProgram {
  readonly view: ProgramView;
  onFailure: (error: unknown) => void = () => {};
  #rights: SheetRights;
  readonly #changed: () => void;
  #program: PlannedProgram;
  readonly #season: SeasonToPlace | null;
  readonly #panes: LivePanes;
  #isPlanned: boolean;
  #changes = 0;
  /** What of the recipe was changed since the last decision. The log does not hold it, so undo would pass it over. */
  #recipeChanged: string | null = null;
  #timer: NodeJS.Timeout | undefined;
  readonly #settler = new Settler();
  readonly #waiting: (() => void)[] = [];

  /**
   * @param at the program's folder, and what is saved in it
   * @param isPlanned false for one that is looked at before its plan is made: {@link settle} makes it
   */
  constructor(
    program: PlannedProgram,
    rights: SheetRights,
    changed: () => void,
    { folder, season, isNew, issued }: SheetPlace = noPlace,
    isPlanned = true,
  ) {
    this.#isPlanned = isPlanned;
    this.#program = program;
    this.#season = season;
    this.#rights = rights;
    this.#changed = changed;
    this.#panes = new LivePanes(
      folder,
      () => this.#program,
      () => {
        this.view.forgetPanes();
        changed();
      },
      (error) => this.onFailure(error),
      (work) => this.#soon(work),
      issued,
    );
    const closedBecause = () => (this.#rights.kind === "look" ? this.#rights.because : null);
    this.view = viewProgram(program, (row) => this.#explain(row), {
      unplanned: !isPlanned,
      get closedBecause() {
        return closedBecause();
      },
      check: (column, text) => checkValue(column, text, program.basis.program),
      formula: formulaHelp,
      panes: this.#panes,
      isNew,
      soon: (work) => this.#soon(work),
    });
  }

  get program(): PlannedProgram {
    return this.#program;
  }

  /** What the disk refuses is answered in words, and the sheet stays open: there may be room again, or the folder be back. */
  async perform(effect: OutsideEffect): Promise<Answer> {
    try {
      return await this.#do(effect);
    } catch (error) {
      const said = describeDiskError(error);
      if (said === null) throw error;
      return { ...answer(`Not done: ${said}`), refused: [said] };
    }
  }

  async #do(effect: OutsideEffect): Promise<Answer> {
    if (!this.#isPlanned) return answer("Not done: the plan is being made.");
    const writer = this.#rights.kind === "decide" ? this.#rights.writer : null;
    switch (effect.kind) {
      case "try recipe":
        this.#panes.try(effect.item, effect.text);
        this.view.forgetPanes();
        return answer("Nothing is written yet: what it would move is worked out.");
      case "drop recipe":
        this.#panes.dropTrial();
        this.view.forgetPanes();
        return answer("Nothing was changed.");
      case "look again":
        return this.#lookAgain(this.#rights);
      case "accept recipe":
        return this.#acceptRecipe(effect.reason, writer);
      case "undo":
        if (this.#recipeChanged !== null) return this.#firstTheRecipe(this.#recipeChanged);
    }
    const performed = await performInSheet(effect, this.#program, writer, (id) => this.view.rowOf(id));
    this.#program = performed.program;
    const isEdit = effect.kind !== "add column" && performed.answer.refused.length === 0;
    if (isEdit) this.#changes++;
    // What was planned in the meantime does not know of this.
    if (performed.answer.refused.length === 0 && (isEdit || this.view.stale !== null)) this.#settleSoon();
    if (isEdit) this.#panes.forget();
    if (effect.kind === "add column") this.#recipeChanged = effect.name;
    else if (isEdit) this.#recipeChanged = null;
    this.view.show(performed.program, performed.rows, isEdit ? STALE : this.view.stale);
    return performed.answer;
  }

  /** Whether the other wyeplan, for which this sheet only shows, is still there. */
  async #lookAgain(rights: SheetRights): Promise<Answer> {
    if (rights.kind === "look" && rights.again !== undefined) this.#rights = await rights.again();
    return answer(
      this.#rights.kind === "look"
        ? this.#rights.because
        : "The other wyeplan is gone: from now on this sheet decides. Press the key again.",
    );
  }

  /** Nobody who has just changed the recipe means an older decision: it is undone when asked for again. */
  #firstTheRecipe(changed: string): Answer {
    this.#recipeChanged = null;
    const recipe = keyOf((action) => action.kind === "show pane" && action.pane === "recipe");
    const undo = keyOf(({ kind }) => kind === "undo");
    return answer(
      `Nothing is undone: ${changed} came last, and the recipe is not in the log of decisions. ${recipe} changes it back; ${undo} again undoes the decision before it.`,
    );
  }

  /** Writes the change on trial into program.json, keeps the run before it with the reason, and plans the whole anew. */
  async #acceptRecipe(reason: string, writer: SheetWriter | null): Promise<Answer> {
    const { trial } = this.#panes;
    if (trial === null || writer === null) return answer("There is no change on trial here.");
    const accepted = await acceptRecipe(this.#program, trial, reason, writer);
    if (!accepted.ok) {
      // A formula and the sign under its character, which are indented, stand in the pane.
      const reasons = accepted.because.split("\n").filter((line) => !line.startsWith(" "));
      return { ...answer(`Nothing was changed. ${reasons.join(" ")}`), refused: [accepted.because] };
    }
    this.#recipeChanged = trial.item.path.join(".");
    this.#panes.dropTrial();
    this.#panes.forget();
    this.#changes++;
    this.#program = { ...this.#program, basis: { ...accepted.basis, fits: this.#program.basis.fits } };
    this.view.show(this.#program, null, "the new recipe's ranking follows");
    this.#settleSoon();
    return answer(accepted.notice);
  }

  /** Plans the whole anew now, and waits for it: the sheet is then as a fresh plan is, unless something was changed meanwhile. */
  async settle(): Promise<void> {
    clearTimeout(this.#timer);
    const settled = await this.#settler.settle(this.#program, this.#season, (part) => {
      if (this.#isPlanned) return;
      this.view.isPlanning(part);
      this.#changed();
    });
    if (settled === null) return;
    this.#isPlanned = true;
    this.#program = inPlaces(this.#program.columns, settled);
    this.#panes.forget();
    this.view.show(this.#program, null, null);
    this.#changed();
  }

  whereWorkIs(): string {
    if (this.#rights.kind === "look") return "Nothing was decided in it.";
    const sets = `${this.#changes} ${this.#changes === 1 ? "change" : "changes"}`;
    return `What was decided is safe in ${this.#rights.writer.lock.folder}/decisions.csv (${sets} this time).`;
  }

  close(): void {
    clearTimeout(this.#timer);
    this.#waiting.length = 0;
    this.#panes.forget();
    this.#settler.end();
  }

  /** One piece of work between two looks at the keyboard; drawn when all of them are done. */
  #soon(work: () => void): void {
    this.#waiting.push(work);
    if (this.#waiting.length > 1) return;
    const next = () => {
      this.#waiting[0]?.();
      this.#waiting.shift();
      if (this.#waiting.length > 0) setImmediate(next);
      else this.#changed();
    };
    setImmediate(next);
  }

  #settleSoon(): void {
    this.#settler.stop();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.settle().catch((error: unknown) => this.onFailure(error));
    }, SETTLE_AFTER);
  }

  #explain(row: number) {
    const { tables, basis, laterals } = this.#program;
    return [
      ...explainLateral(planLateral(lateralAt(tables, row), basis), basis),
      ...explainOwnColumns(readSheet(laterals, row), basis),
      ...explainSeason(this.#program, row),
    ];
  }
}

/**
 * The sheet knows the columns it shows by their places: they keep them, and what is new comes after. A column that the recipe no longer
 * has stays, empty, until the sheet is closed.
 */
function inPlaces(known: readonly Column[], settled: PlannedProgram): PlannedProgram {
  const { columns, laterals } = settled;
  const byKey = new Map(columns.map((column) => [column.key, column]));
  const gone = known.filter(({ key }) => !byKey.has(key));
  const kept = known.map((column) => byKey.get(column.key) ?? column);
  const placed = new Set(kept);
  return {
    ...settled,
    columns: [...kept, ...columns.filter((column) => !placed.has(column))],
    laterals: withColumns(
      laterals,
      gone.map(({ key }) => [key, missingNumbers(laterals.rows)]),
    ),
  };
}
