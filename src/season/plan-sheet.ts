import type { Column } from "../columns/column.ts";
import {
  type CrewKind,
  crewKinds,
  type PlanKey,
  planColumns,
  treatmentKinds,
} from "../columns/plan-columns.ts";
import { bidLineKey } from "../plan/bid-lines.ts";
import { piecesIn } from "../plan/liner.ts";
import { mayBeScheduled } from "../plan/permission.ts";
import { type PlannedLateral, planLateral } from "../plan/plan-lateral.ts";
import { readerOf, surveyKeys } from "../plan/score-values.ts";
import { exactly } from "../plan/survey-ratings.ts";
import { takeOffMaterials, takeoffKey } from "../plan/takeoff.ts";
import type { WetOut } from "../plan/wet-out.ts";
import { yearsAfter } from "../quantity/calendar.ts";
import { isNumeric } from "../quantity/measure.ts";
import { GrowingNumbers, GrowingWords } from "../sheet/grow.ts";
import {
  type ColumnData,
  missingNumbers,
  missingWords,
  pickRows,
  type Table,
  withColumns,
} from "../sheet/table.ts";
import { withDecisions } from "./decided-columns.ts";
import type { FittedBasis } from "./fits.ts";
import { lateralAt } from "./lateral-at.ts";
import type { PreparedBasis } from "./own-columns.ts";
import type { ProgramTables } from "./program-tables.ts";

/** The plan of the whole batch, before ranking. */
export interface PlannedSheet {
  /** The city's columns with the plan's beside them. */
  readonly laterals: Table;
  /**
   * A row a lateral × eligible treatment: `lateral_row`, `treatment`, `cost`, `crew_minutes`, `resin_ml`, `chosen`; `present_worth` of the
   * work and its renewals, cents; `remaining_loss`, cents of today, when it is kept up so; `loss_avoided`, cents of today, by doing it once;
   * `infiltration_removed`, L/s in the season of high groundwater; `life_years`. Missing is NaN. Minutes of each kind of crew's visit
   * (visitMinutesKey), and of crews with several sets the minutes they are needed.
   */
  readonly offers: Table;
  /** A row a bid line of a chosen treatment: `lateral_row`, `line` (see bidLineKey), `hundredths`, `extension` in cents. */
  readonly lines: Table;
  /**
   * A row a lateral, for the takeoff: `nominal_diameter` mm, `liners` (pieces placed), `resin_ml`, `resin` (its key), `resin_g`, `base_g`, `hardener_g`,
   * `over_pot_life`, `end_seals`, `crew_day_hundredths`; and for each kind of crew ({@link visitKeys}) its visit: minutes from
   * set-up to closed access, minutes the crew is needed, minutes occupants are without water, hundredths of a crew-day;
   * all 0 where it does not come.
   */
  readonly materials: Table;
  /** A row a second liner of a combination: `lateral_row`, and of it what `materials` holds of the first, with its `wall` in mm. */
  readonly seconds: Table;
  /** A row a material used at a lateral, and a row a piece of tube: `lateral_row`, `use` (see takeoffKey), `amount`. */
  readonly uses: Table;
}

/** Told how far the loop is, now and then. */
export type Progress = (done: number, total: number) => void;

/** How much of the table of offers is wanted. */
export interface Wanted {
  /**
   * `all` of them, for whoever chooses among them (a season) or shows them; or those `chosen`. Pricing, timing and weighing the others is a
   * third of the plan's time.
   */
  readonly offers: "all" | "chosen";
}

export const everything: Wanted = { offers: "all" };

/** Rows planned at a stretch: often enough to see the progress, rare enough to cost nothing. */
export const BLOCK = 1024;

/** Plans every lateral and keeps the numbers and codes; the full record of one lateral is worked out again when asked for. */
export function planSheet(
  tables: ProgramTables,
  basis: FittedBasis,
  progress: Progress = () => {},
  wanted: Wanted = everything,
): PlannedSheet {
  const { rows } = tables.laterals;
  const columns = emptyPlan(rows, basis);
  const lists = emptyLists(basis);
  for (let from = 0; from < rows; from += BLOCK) {
    progress(from, rows);
    planRows(tables, basis, { columns, lists, wanted }, from, Math.min(from + BLOCK, rows));
  }
  progress(rows, rows);
  return sheetOf(tables, columns, finishLists(lists));
}

/** Plans some of the rows: their cells in the plan's columns, their entries at the end of the lists. */
export function planRows(
  tables: ProgramTables,
  basis: FittedBasis,
  into: {
    readonly columns: ReadonlyMap<string, ColumnData>;
    readonly lists: Lists;
    readonly wanted: Wanted;
  },
  from: number,
  to: number,
): void {
  for (let row = from; row < to; row++) {
    const planned = planLateral(lateralAt(tables, row), basis);
    writePlanned(into.columns, row, planned);
    pushLists(into.lists, row, planned, basis, into.wanted);
  }
}

/** The sheet of columns and lists planned. */
export const sheetOf = (
  { laterals, decisions }: ProgramTables,
  columns: ReadonlyMap<string, ColumnData>,
  lists: PlannedLists,
): PlannedSheet => ({ laterals: withColumns(withDecisions(laterals, decisions), columns), ...lists });

/** The sheet of one lateral alone, in row 0: what it adds to every total. */
export function sheetOfOne(
  { laterals, decisions }: ProgramTables,
  row: number,
  planned: PlannedLateral,
  basis: FittedBasis,
): PlannedSheet {
  const columns = emptyPlan(1, basis);
  const lists = emptyLists(basis);
  writePlanned(columns, 0, planned);
  pushLists(lists, 0, planned, basis, everything);
  return {
    laterals: withColumns(withDecisions(pickRows(laterals, Uint32Array.of(row)), decisions), columns),
    ...finishLists(lists),
  };
}

/** The tables beside the laterals' own, while they grow. */
export const emptyLists = (basis: FittedBasis) => ({
  offers: offerColumns(basis),
  lines: lineColumns(),
  materials: materialColumns(),
  seconds: secondColumns(),
  uses: materialUses(),
});
export type Lists = ReturnType<typeof emptyLists>;
export type PlannedLists = Readonly<Record<keyof Lists, Table>>;

function pushLists(
  lists: Lists,
  row: number,
  planned: PlannedLateral,
  basis: FittedBasis,
  wanted: Wanted,
): void {
  pushOffers(lists.offers, row, planned, wanted.offers === "all" ? planned.offers : [planned.chosen]);
  pushLines(lists.lines, row, planned);
  pushMaterials(lists.materials, planned);
  pushSeconds(lists.seconds, row, planned);
  pushUses(lists.uses, row, planned, basis);
}

export const finishLists = (lists: Lists): PlannedLists => ({
  offers: finish(lists.offers),
  lines: finish(lists.lines),
  materials: finish(lists.materials),
  seconds: finish(lists.seconds),
  uses: finish(lists.uses),
});

/** The plan's columns, all missing; of the leading survey's, those that a formula of the recipe reads over the sheet. */
export function emptyPlan(rows: number, { ownColumns, filters }: PreparedBasis): Map<string, ColumnData> {
  const columns = new Map<string, ColumnData>();
  for (const column of planColumns as readonly Column[]) {
    columns.set(
      column.key,
      isNumeric(column.measure) ? missingNumbers(rows) : missingWords(rows, column.words ?? []),
    );
  }
  const read = new Set([...ownColumns, ...filters].flatMap(({ reads }) => reads));
  for (const key of surveyKeys) if (read.has(key)) columns.set(key, missingNumbers(rows));
  return columns;
}

/** Plans one lateral again and writes its row: what an edit of its decisions changes in the sheet. */
export function writePlanned(
  columns: ReadonlyMap<string, ColumnData>,
  row: number,
  planned: PlannedLateral,
): void {
  const { condition, risk, failure, chosen, choice } = planned;
  const number = (key: PlanKey, value: number | null): void => {
    const column = columns.get(key);
    if (column?.kind !== "number") throw new RangeError(`writePlanned: ${key} is not a number column`);
    column.values[row] = value ?? Number.NaN;
  };
  const word = (key: PlanKey, value: string | null): void => {
    const column = columns.get(key);
    if (column?.kind !== "code") throw new RangeError(`writePlanned: ${key} is not a code column`);
    const code = value === null ? 0 : column.words.indexOf(value);
    if (code < 0) throw new RangeError(`writePlanned: ${key} has no word ${JSON.stringify(value)}`);
    column.codes[row] = code;
  };

  const known = readerOf(planned.lateral, condition);
  for (const key of surveyKeys) {
    const column = columns.get(key);
    if (column?.kind === "number") column.values[row] = known(key) as number;
  }
  word("condition_state", condition.state);
  number("structural_grade", condition.structural?.value ?? null);
  number("om_grade", condition.om?.value ?? null);
  number("inspection_age", condition.ageYears);
  number("reinspect", condition.reinspect.length > 0 ? 1 : 0);
  const { pipeRating, defects } = condition;
  number("pipe_rating", exactly(pipeRating?.rating ?? null));
  number("pipe_rating_index", exactly(pipeRating?.index ?? null));
  number("structural_defects_least", defects?.least ?? null);
  number("structural_defects_most", defects === null || !Number.isFinite(defects.most) ? null : defects.most);
  number("likelihood", risk.likelihood?.value ?? null);
  number("consequence", risk.consequence?.value ?? null);
  number("risk", risk.score);
  number("p_structural", failure.chances.structural.value.best);
  number("p_blockage", failure.chances.blockage.value.best);
  number("p_infiltration", failure.chances.infiltration.value.best);
  number("expected_loss", wholeCents(failure.money?.annualLoss.best ?? null));
  number("present_loss", wholeCents(failure.money?.presentLoss.best ?? null));
  number("infiltration", failure.infiltration?.value.highSeason ?? null);
  word("treatment", choice.treatment);

  const placed = chosen.wall;
  number("wall_calculated", placed?.specified.calculated ?? null);
  number("wall_specified", placed?.specified.specifiedMinimum ?? null);
  number("wall", placed?.specified.stocked ?? null);
  number("wall_second_opinion", placed?.crossCheck?.glockWall ?? null);
  number("dr", placed?.dimensionRatio ?? null);
  word("wall_check", placed === null ? null : governorWords[placed.worst.design.governing]);
  word(
    "wall_decider",
    placed === null
      ? null
      : placed.specified.governedBy === "calculation"
        ? "calculated"
        : "specified minimum",
  );
  number("liner_length", chosen.liner?.installedLength ?? null);
  number("resin", chosen.pieces.length === 0 ? null : resinOf(chosen) / 1000);
  const { placed: work } = chosen;
  number("cure_minutes", work === null ? null : Math.round(work.cure.total));
  number("pull", work?.forces.pull?.pull.atWinch ?? null);
  number("capacity_ratio", work?.flow.capacity.ownRoughness?.least ?? null);
  number("capacity_equal_n", work?.flow.capacity.equalRoughness ?? null);
  number("crew_minutes", chosen.crewTime.total);
  number("cost", chosen.cost.total);
  word("own_choice", choice.own);
  number("decision_cost", choice.decisionCost);
  word("runner_up", choice.runnerUp?.treatment ?? null);
  number("runner_up_more", choice.runnerUp?.more ?? null);
  const { again } = planned;
  number("look_again_by", again === null ? null : yearsAfter(again.seen, again.years));
  const { tracked } = planned.lateral;
  word("status", tracked.status?.value ?? null);
  number("status_on", tracked.statusOn?.value ?? null);
  number("installed_length", tracked.installedLength?.value ?? null);
  number("installed_cost", tracked.installedCost?.value ?? null);
  const { split } = chosen;
  number("city_cost", split.kind === "split" ? split.city : null);
  number("owner_cost", split.kind === "split" ? split.owner : null);
  const may = mayBeScheduled(chosen.permission);
  number("may_be_scheduled", may === null ? null : Number(may));
}

/** Millilitres for all liners of an offer. */
const resinOf = ({ pieces }: PlannedLateral["chosen"]): number =>
  pieces.reduce((sum, { placed }) => sum + placed.wetOut.millilitres, 0);

/** An expected value has no exact cents; the sheet shows the nearest. */
const wholeCents = (amount: number | null): number | null => (amount === null ? null : Math.round(amount));

/** The checks of the design by the words of the sheet. */
const governorWords = {
  buckling: "buckling (X1.1)",
  bending: "out-of-round bending (X1.2)",
  "soil-buckling": "soil and traffic (X1.3)",
  stiffness: "stiffness (X1.4)",
  "largest-ratio": "greatest DR",
} as const;

const offerColumns = ({ steps }: FittedBasis) => ({
  lateral_row: new GrowingNumbers(),
  treatment: new GrowingWords(treatmentKinds),
  cost: new GrowingNumbers(),
  crew_minutes: new GrowingNumbers(),
  resin_ml: new GrowingNumbers(),
  chosen: new GrowingNumbers(),
  present_worth: new GrowingNumbers(),
  remaining_loss: new GrowingNumbers(),
  loss_avoided: new GrowingNumbers(),
  infiltration_removed: new GrowingNumbers(),
  life_years: new GrowingNumbers(),
  may_be_scheduled: new GrowingNumbers(),
  ...visitMinutes(),
  ...handsOnMinutes(steps),
});

/** Minutes of each kind of crew's visit for an offer, from set-up to closed access. */
export const visitMinutesKey = (crew: CrewKind) => `visit_minutes:${crew}` as const;

const visitMinutes = () =>
  Object.fromEntries(crewKinds.map((crew) => [visitMinutesKey(crew), new GrowingNumbers()])) as Record<
    ReturnType<typeof visitMinutesKey>,
    GrowingNumbers
  >;

/** Minutes a crew is needed for its visit: only of crews with several sets, which overlap visits; others are needed all the time. */
const handsOnMinutes = ({ crews }: FittedBasis["steps"]) =>
  Object.fromEntries(
    crewKinds
      .filter((crew) => crews[crew].sets > 1)
      .map((crew) => [visitKeys(crew).handsOn, new GrowingNumbers()]),
  ) as Partial<Record<ReturnType<typeof visitKeys>["handsOn"], GrowingNumbers>>;

function pushOffers(
  into: ReturnType<typeof offerColumns>,
  row: number,
  { chosen }: PlannedLateral,
  offers: PlannedLateral["offers"],
): void {
  for (const offer of offers) {
    into.lateral_row.push(row);
    into.treatment.push(offer.treatment);
    into.cost.push(offer.cost.total ?? Number.NaN);
    into.crew_minutes.push(offer.crewTime.total);
    into.resin_ml.push(resinOf(offer));
    into.chosen.push(offer === chosen ? 1 : 0);
    const may = mayBeScheduled(offer.permission);
    into.may_be_scheduled.push(may === null ? Number.NaN : Number(may));
    for (const { crew, keys } of visitColumnsOf) {
      const visit = offer.crewTime.visits.find((each) => each.crew === crew);
      into[keys.whole].push(visit?.whole ?? 0);
      into[keys.handsOn]?.push(visit?.handsOn ?? 0);
    }
    const { life, after } = offer;
    into.present_worth.push(life.presentWorth ?? Number.NaN);
    into.remaining_loss.push(wholeCents(after.money?.remaining.best ?? null) ?? Number.NaN);
    into.loss_avoided.push(wholeCents(after.money?.avoided.best ?? null) ?? Number.NaN);
    into.infiltration_removed.push(after.infiltrationRemoved?.best ?? Number.NaN);
    into.life_years.push(life.years ?? Number.NaN);
  }
}

const lineColumns = () => ({
  lateral_row: new GrowingNumbers(),
  line: new GrowingWords(),
  hundredths: new GrowingNumbers(),
  extension: new GrowingNumbers(),
});

function pushLines(into: ReturnType<typeof lineColumns>, row: number, { chosen }: PlannedLateral): void {
  for (const line of chosen.cost.lines) {
    into.lateral_row.push(row);
    into.line.push(bidLineKey(line));
    into.hundredths.push(line.hundredths);
    into.extension.push(line.extension ?? Number.NaN);
  }
}

const materialColumns = () => ({
  nominal_diameter: new GrowingNumbers(),
  liners: new GrowingNumbers(),
  resin_ml: new GrowingNumbers(),
  end_seals: new GrowingNumbers(),
  resin: new GrowingWords(),
  resin_g: new GrowingNumbers(),
  base_g: new GrowingNumbers(),
  hardener_g: new GrowingNumbers(),
  over_pot_life: new GrowingNumbers(),
  crew_day_hundredths: new GrowingNumbers(),
  ...visitColumns(),
});

const secondColumns = () => ({
  lateral_row: new GrowingNumbers(),
  wall: new GrowingNumbers(),
  resin_ml: new GrowingNumbers(),
  end_seals: new GrowingNumbers(),
  resin: new GrowingWords(),
  resin_g: new GrowingNumbers(),
  base_g: new GrowingNumbers(),
  hardener_g: new GrowingNumbers(),
  over_pot_life: new GrowingNumbers(),
});

function pushSeconds(
  into: ReturnType<typeof secondColumns>,
  row: number,
  { chosen: { pieces } }: PlannedLateral,
): void {
  for (const { liner, placed } of pieces.slice(1)) {
    into.lateral_row.push(row);
    into.wall.push(liner.wall);
    into.resin_ml.push(placed.wetOut.millilitres);
    pushBatch(into, placed.wetOut);
    into.end_seals.push(liner.endSeals);
  }
}

/** Columns of the takeoff that say what one kind of crew does at a lateral. */
export const visitKeys = (crew: CrewKind) =>
  ({
    whole: visitMinutesKey(crew),
    handsOn: `hands_on_minutes:${crew}`,
    outage: `outage_minutes:${crew}`,
    crewDayHundredths: `crew_day_hundredths:${crew}`,
  }) as const;

type VisitKey = ReturnType<typeof visitKeys>[keyof ReturnType<typeof visitKeys>];

const visitColumns = () =>
  Object.fromEntries(
    crewKinds.flatMap((crew) => Object.values(visitKeys(crew)).map((key) => [key, new GrowingNumbers()])),
  ) as Record<VisitKey, GrowingNumbers>;

/** The columns of each kind of crew, made once: made anew for each lateral they took 3 % of the whole plan. */
const visitColumnsOf = crewKinds.map((crew) => ({ crew, keys: visitKeys(crew) }));

function pushVisits(into: ReturnType<typeof visitColumns>, { crewTime }: PlannedLateral["chosen"]): void {
  for (const { crew, keys } of visitColumnsOf) {
    const visit = crewTime.visits.find((each) => each.crew === crew);
    into[keys.whole].push(visit?.whole ?? 0);
    into[keys.handsOn].push(visit?.handsOn ?? 0);
    into[keys.outage].push(visit?.outage ?? 0);
    into[keys.crewDayHundredths].push(visit?.crewDayHundredths ?? 0);
  }
}

function pushMaterials(into: ReturnType<typeof materialColumns>, { chosen }: PlannedLateral): void {
  into.nominal_diameter.push(chosen.liner?.nominalDiameter ?? Number.NaN);
  into.liners.push(chosen.liner === null ? 0 : piecesIn(chosen.liner));
  into.resin_ml.push(chosen.wetOut?.millilitres ?? 0);
  pushBatch(into, chosen.wetOut);
  into.end_seals.push(chosen.liner?.endSeals ?? 0);
  into.crew_day_hundredths.push(chosen.crewTime.crewDayHundredths);
  pushVisits(into, chosen);
}

const materialUses = () => ({
  lateral_row: new GrowingNumbers(),
  use: new GrowingWords(),
  amount: new GrowingNumbers(),
});

function pushUses(
  into: ReturnType<typeof materialUses>,
  row: number,
  { chosen, lateral }: PlannedLateral,
  basis: FittedBasis,
): void {
  for (const use of takeOffMaterials(chosen, lateral, basis)) {
    into.lateral_row.push(row);
    into.use.push(takeoffKey(use));
    into.amount.push(use.amount);
  }
}

const GRAMS_PER_KILOGRAM = 1000;
const wholeGrams = (kilograms: number): number => Math.round(kilograms * GRAMS_PER_KILOGRAM);

/** What is weighed for the liner, in whole grams; `over_pot_life` is missing where it is the supplier's to say. */
function pushBatch(
  into: Omit<ReturnType<typeof secondColumns>, "lateral_row" | "wall" | "resin_ml" | "end_seals">,
  wetOut: WetOut | null,
): void {
  const weighed = wetOut?.components.kind === "two parts" ? wetOut.components.batch : null;
  const life = wetOut?.potLife.kind ?? "not computed";
  into.resin.push(wetOut?.resin ?? "");
  into.resin_g.push(wetOut === null || weighed !== null ? 0 : wholeGrams(wetOut.mixed.mass));
  into.base_g.push(weighed === null ? 0 : wholeGrams(weighed.base));
  into.hardener_g.push(weighed === null ? 0 : wholeGrams(weighed.hardener));
  into.over_pot_life.push(life === "not computed" ? Number.NaN : life === "too long" ? 1 : 0);
}

function finish(growing: Readonly<Record<string, GrowingNumbers | GrowingWords | undefined>>): Table {
  const columns = new Map(
    Object.entries(growing).flatMap(([key, column]) =>
      column === undefined ? [] : [[key, column.finish()] as const],
    ),
  );
  const first = columns.values().next().value;
  if (first === undefined) throw new RangeError("finish: a table without columns");
  return { rows: first.kind === "number" ? first.values.length : first.codes.length, columns };
}
