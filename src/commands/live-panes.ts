import { type IssuedNumbers, NOTHING_ISSUED } from "../bidding/issued-numbers.ts";
import { extend } from "../quantity/money.ts";
import { showCount, showNumber } from "../quantity/show-quantity.ts";
import type {
  BidSeen,
  PaneData,
  RankingMoved,
  RecipeItem,
  RecipeSeen,
  SeasonSeen,
  Worked,
} from "../screen/pane-data.ts";
import { bidLinesToBid } from "../season/bid-work.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { addedMatrices, countRiskMatrix, type RiskMatrix } from "../season/risk-matrix.ts";
import { itemNumber, scheduleLines } from "../workbook/bid-schedule.ts";
import type { PaneAsked } from "./pane-work.ts";
import { recipeParts } from "./recipe-parts.ts";
import { type PaneWorking, workBeside } from "./thread-work.ts";

const WORKING = { kind: "working" } as const;
/** Laterals counted between two looks at the keyboard, in a millisecond or two. */
const COUNTED_AT_ONCE = 100_000;
const NO_FOLDER = { kind: "none", because: "This sheet has no program folder." } as const;

/**
 * What the panes of an open program show. What takes time is worked out in a thread when it is first looked at, and again after the
 * program has changed; until then the pane says that it is working.
 */
export class LivePanes implements PaneData {
  readonly #folder: string | null;
  readonly #program: () => PlannedProgram;
  readonly #changed: () => void;
  readonly #failed: (error: unknown) => void;
  readonly #soon: (work: () => void) => void;
  readonly #issued: IssuedNumbers;
  readonly #found = new Map<"season" | "moved" | "trial", Worked<SeasonSeen> | Worked<RankingMoved>>();
  readonly #jobs = new Map<PaneAsked["what"], PaneWorking>();
  #matrix: Worked<RiskMatrix> = WORKING;
  #matrixIsOld = true;
  #matrixJob: object | null = null;
  #trial: { readonly item: RecipeItem; readonly text: string } | null = null;

  constructor(
    folder: string | null,
    program: () => PlannedProgram,
    changed: () => void,
    failed: (error: unknown) => void,
    soon: (work: () => void) => void,
    issued: IssuedNumbers = NOTHING_ISSUED,
  ) {
    this.#folder = folder;
    this.#program = program;
    this.#changed = changed;
    this.#failed = failed;
    this.#soon = soon;
    this.#issued = issued;
  }

  get trial() {
    return this.#trial;
  }

  /** Counted once for a program, a big one between keys: the pane is drawn anew with every move of the cursor. */
  matrix({ laterals }: PlannedProgram): Worked<RiskMatrix> {
    if (!this.#matrixIsOld) return this.#matrix;
    this.#matrixIsOld = false;
    const points = (key: string) => {
      const column = laterals.columns.get(key);
      if (column?.kind !== "number") throw new RangeError(`matrix: no number column ${JSON.stringify(key)}`);
      return column.values;
    };
    const [likelihood, consequence] = [points("likelihood"), points("consequence")];
    let counted = countRiskMatrix(likelihood, consequence, null, 0, Math.min(laterals.rows, COUNTED_AT_ONCE));
    if (laterals.rows <= COUNTED_AT_ONCE) {
      this.#matrix = { kind: "known", value: counted };
      return this.#matrix;
    }
    const job = {};
    this.#matrixJob = job;
    for (let from = COUNTED_AT_ONCE; from < laterals.rows; from += COUNTED_AT_ONCE) {
      const to = Math.min(laterals.rows, from + COUNTED_AT_ONCE);
      this.#soon(() => {
        if (this.#matrixJob !== job) return;
        counted = addedMatrices(counted, countRiskMatrix(likelihood, consequence, null, from, to));
        if (to < laterals.rows) return;
        this.#matrix = { kind: "known", value: counted };
        this.#changed();
      });
    }
    // After an edit the counts of before stand for the moment it takes.
    return this.#matrix;
  }

  schedule(program: PlannedProgram): BidSeen {
    const { basis } = program;
    const style = basis.program;
    const lines = scheduleLines(basis, bidLinesToBid(program), this.#issued).map((line) => {
      const price = basis.prices[line.key] ?? basis.prices[line.item.key] ?? null;
      return { line, price, extension: price === null ? null : extend(line.hundredths, price) };
    });
    const money = (value: number | null) => (value === null ? "" : showNumber(value, "money", style));
    return {
      lines: lines.map(({ line, price, extension }) => ({
        number: itemNumber(line.number),
        label: line.label,
        description: line.description,
        unit: line.unit,
        quantity:
          line.item.unit === "length" || line.item.unit === "area"
            ? showNumber(line.hundredths / 100, "factor", style)
            : showCount(line.hundredths / 100),
        price: money(price),
        extension: money(extension),
      })),
      total: money(lines.reduce((sum, { extension }) => sum + (extension === null ? 0 : extension), 0)),
      unpriced: lines.filter(({ price }) => price === null).length,
      priceSource: basis.priceSource,
    };
  }

  season(): Worked<SeasonSeen> {
    return this.#work((folder) => ({ what: "season", folder })) as Worked<SeasonSeen>;
  }

  moved(): Worked<RankingMoved> {
    return this.#work((folder) => ({ what: "moved", folder })) as Worked<RankingMoved>;
  }

  recipe({ basis }: PlannedProgram): RecipeSeen {
    const parts = recipeParts(basis);
    const trial = this.#trial;
    if (trial === null) return { parts, trial };
    const { item, text } = trial;
    const moved = this.#work((folder) => ({ what: "trial", folder, path: item.path, text }));
    return { parts, trial: { item, text, moved: moved as Worked<RankingMoved> } };
  }

  try(item: RecipeItem, text: string): void {
    this.#drop("trial");
    this.#trial = { item, text };
  }

  dropTrial(): void {
    this.#drop("trial");
    this.#trial = null;
  }

  /** The program is another now: what was worked out is so no longer. */
  forget(): void {
    for (const what of ["season", "moved", "trial"] as const) this.#drop(what);
    this.#matrixIsOld = true;
    this.#matrixJob = null;
  }

  #drop(what: PaneAsked["what"]): void {
    this.#jobs.get(what)?.stop();
    this.#jobs.delete(what);
    this.#found.delete(what);
  }

  #work(ask: (folder: string) => PaneAsked): Worked<SeasonSeen> | Worked<RankingMoved> {
    if (this.#folder === null) return NO_FOLDER;
    const asked = ask(this.#folder);
    const known = this.#found.get(asked.what);
    if (known !== undefined) return known;
    if (!this.#jobs.has(asked.what)) {
      const job = workBeside(asked, this.#program());
      this.#jobs.set(asked.what, job);
      job.found.then(({ found }) => {
        if (this.#jobs.get(asked.what) !== job) return;
        this.#jobs.delete(asked.what);
        this.#found.set(asked.what, found);
        this.#changed();
      }, this.#failed);
    }
    return WORKING;
  }
}
