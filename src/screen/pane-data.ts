import type { SeasonStrip } from "../pictures/season-strip.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { RiskMatrix } from "../season/risk-matrix.ts";

/** What a pane shows that takes time to work out: it is worked out beside the sheet, and no key waits for it. */
export type Worked<T> =
  | { readonly kind: "known"; readonly value: T }
  | { readonly kind: "working" }
  /** There is nothing to show, and what would change that. */
  | { readonly kind: "none"; readonly because: string };

/** A line of the bid schedule, as people see it. */
export interface BidLineSeen {
  readonly number: string;
  /** In short: item and variant. */
  readonly label: string;
  readonly description: string;
  readonly unit: string;
  readonly quantity: string;
  /** Of the city's own estimate; "" where the item has no price. */
  readonly price: string;
  readonly extension: string;
}

export interface BidSeen {
  readonly lines: readonly BidLineSeen[];
  readonly total: string;
  readonly unpriced: number;
  readonly priceSource: string;
}

/** Why a lateral is in the saved season, or out of it. */
export const seasonFates = [
  "in",
  "no offer that counts",
  "held back",
  "must not",
  "fits no season",
  "gains nothing",
  "others gain more",
] as const;
export type SeasonFate = (typeof seasonFates)[number];

/** The season: the crews' weeks, and the saved selection. */
export interface SeasonSeen {
  /** Where nobody is sent before a cross-bore is made safe, in a sentence; none where that is nowhere. */
  readonly heldBack: readonly string[];
  readonly calendar: {
    readonly strip: SeasonStrip;
    /** Whose weeks they are. */
    readonly of: string;
    readonly workingDays: number;
    readonly finish: string | null;
    readonly crewDaysLeft: number;
  } | null;
  readonly saved: SavedSeason | null;
  /** Why none is shown. */
  readonly notShown: string;
}

/** The latest season that was saved with a name. */
export interface SavedSeason {
  readonly name: string;
  readonly when: string;
  /** What it is worth, what it costs and how far it is proven, a line each. */
  readonly head: readonly string[];
  /** Money spent and what it is worth, adding up from the lateral with most worth for its cost; as parts of the whole. */
  readonly curve: readonly { readonly cost: number; readonly worth: number }[];
  /** Treatment by id of the laterals that are in. */
  readonly chosen: ReadonlyMap<string, string>;
  /** Place in {@link seasonFates}, by row: as its offers are judged now. */
  readonly fates: Uint8Array;
  /** Why each is in or out, as the season was solved; by row the place in the sentences, counted from 1. Null where the season is of another plan. */
  readonly reasons: { readonly sentences: readonly string[]; readonly of: Uint8Array } | null;
  /**
   * Worth for its cost, by row, of the offer that is in, else of the best one; 1 is the least among those that are in. NaN where there is
   * none.
   */
  readonly ratios: Float64Array;
}

/** A lateral that moved in the ranking. */
export interface MovedLateral {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  readonly places: number;
  /** Came in, dropped out; "" for neither. */
  readonly selection: string;
  /** What moved it, where that is known. */
  readonly why: string;
}

/** What differs between two rankings. */
export interface RankingMoved {
  /** What is compared, and what changed, a line each. */
  readonly head: readonly string[];
  readonly tauB: number | null;
  /** Laterals that count as selected, and how many of them stay. */
  readonly top: number;
  readonly stay: number;
  readonly overlap: number | null;
  /** Farthest first; those that were only passed by others are counted. */
  readonly movers: readonly MovedLateral[];
  readonly passed: number;
}

/** A value of the recipe that may be changed: a formula, or a number of the tables. */
export interface RecipeItem {
  /** Keys in program.json. */
  readonly path: readonly string[];
  readonly label: string;
  /** As it stands; "" where the tables are used. */
  readonly text: string;
  /** What an empty text means. */
  readonly empty: string;
}

export interface RecipeSeen {
  readonly parts: readonly { readonly heading: string; readonly items: readonly RecipeItem[] }[];
  /** A change that is not accepted yet, and what it would move. */
  readonly trial: {
    readonly item: RecipeItem;
    readonly text: string;
    readonly moved: Worked<RankingMoved>;
  } | null;
}

/** Where the panes have what the season, the workbooks and the program folder know. */
export interface PaneData {
  matrix(program: PlannedProgram): Worked<RiskMatrix>;
  schedule(program: PlannedProgram): BidSeen;
  season(): Worked<SeasonSeen>;
  moved(): Worked<RankingMoved>;
  recipe(program: PlannedProgram): RecipeSeen;
}
