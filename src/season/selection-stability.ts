import type { RandomStream } from "../engineering/random-stream.ts";
import { readCondition } from "../plan/condition.ts";
import { usualScores } from "../plan/recipe.ts";
import { scoreRisk } from "../plan/risk.ts";
import { fraction } from "../quantity/si.ts";
import { numberAt, textAt, withColumns } from "../sheet/table.ts";
import { lateralAt } from "./lateral-at.ts";
import type { PlannedProgram } from "./planned-program.ts";
import { drawWeights, type RankStability, rankStability } from "./rank-stability.ts";

export interface SelectionStability extends RankStability {
  readonly seed: number;
  /** Laterals above the cut. */
  readonly selected: Uint8Array;
  readonly cut: number;
}

const FULL_DRAWS = 200;
const FULL_DRAWS_UP_TO = 20_000;
const LEAST_DRAWS = 20;

/** 200 worlds for up to 20,000 laterals; fewer above, so that the time stays about the same, and never under 20. */
export const drawsFor = (laterals: number): number =>
  laterals <= FULL_DRAWS_UP_TO
    ? FULL_DRAWS
    : Math.max(LEAST_DRAWS, Math.floor((FULL_DRAWS * FULL_DRAWS_UP_TO) / laterals));

/**
 * How sure it is that each lateral stays in the selected set: the first N of the ranking, N the number of laterals the plan works on.
 * Likelihood and consequence are drawn about their values, as far as the basis says; a score by the city's own recipe moves in the same proportion.
 */
export function selectionStability(
  { tables, laterals, order, basis }: PlannedProgram,
  draws = drawsFor(laterals.rows),
  seed = 1,
): SelectionStability {
  const { rows } = laterals;
  const cut = countWorked(laterals);
  const selected = new Uint8Array(rows);
  for (const row of order.subarray(0, cut)) selected[row] = 1;
  const inputs = Array.from({ length: rows }, (_, row) => drawnInputs({ tables, laterals, basis }, row));
  const { weights } = basis.risk.consequence;
  const { assumedPoints, weights: weightSpread } = basis.rankSpreads;
  const scoreOf = (row: number, world: readonly number[], stream: RandomStream): number => {
    const { score, likelihood, spread, building, surface } = inputs[row]!;
    const points = ({ value, assumed }: Points): number =>
      assumed ? onScale(drawAbout(value, assumedPoints, stream)) : value;
    const consequence = world[0]! * points(building) + world[1]! * points(surface);
    const before = weights.building * building.value + weights.surface * surface.value;
    return score * (onScale(drawAbout(likelihood, spread, stream)) / likelihood) * (consequence / before);
  };
  const stability = rankStability({
    ids: Array.from({ length: rows }, (_, row) => textAt(laterals, "lateral", row)),
    cut: { kind: "count", count: cut },
    selected,
    drawWorld: (stream) => drawWeights([weights.building, weights.surface], fraction(weightSpread), stream),
    scoreOf,
    draws,
    seed,
  });
  return { ...stability, seed, selected, cut };
}

/** The program with the chance of staying selected in its column. */
export function withStability(
  program: PlannedProgram,
  { stays }: RankStability = selectionStability(program),
): PlannedProgram {
  const values = new Float64Array(new SharedArrayBuffer(stays.length * 8));
  values.set(stays);
  const laterals = withColumns(program.laterals, [["stays_selected", { kind: "number", values }]]);
  return { ...program, laterals };
}

const notWork: ReadonlySet<string> = new Set(["inspect first", "leave and re-inspect"]);

function countWorked(laterals: PlannedProgram["laterals"]): number {
  let worked = 0;
  for (let row = 0; row < laterals.rows; row++)
    if (!notWork.has(textAt(laterals, "treatment", row))) worked++;
  return worked;
}

interface Points {
  readonly value: number;
  readonly assumed: boolean;
}

function drawnInputs(
  { tables, laterals, basis }: Pick<PlannedProgram, "tables" | "laterals" | "basis">,
  row: number,
) {
  const lateral = lateralAt(tables, row);
  const { asOf } = basis.program;
  const { surveyTooOldYears, joinSurveysWithinDays } = basis.treatments.thresholds;
  const condition = readCondition(lateral, asOf, surveyTooOldYears, joinSurveysWithinDays);
  // The usual score is drawn; a recipe of the program's own moves in proportion to it.
  const risk = scoreRisk(lateral, condition, basis.risk, basis.assumptions, asOf, usualScores);
  if (risk.likelihood === null) throw new RangeError(`drawnInputs: ${lateral.id} has no usual likelihood`);
  const { building, surface } = basis.risk.consequence;
  return {
    score: numberAt(laterals, "risk", row),
    likelihood: risk.likelihood.value,
    spread: condition.structural === null ? basis.rankSpreads.notSurveyed : basis.rankSpreads.surveyed,
    building: {
      value: building[lateral.building?.value ?? basis.assumptions.building.value],
      assumed: lateral.building === null,
    },
    surface: {
      value: surface[lateral.surface?.value ?? basis.assumptions.surface.value],
      assumed: lateral.surface === null,
    },
  };
}

const drawAbout = (value: number, spread: number, stream: RandomStream): number =>
  stream.triangular(value - spread, value, value + spread);

/** Points stay on their scale of 1 to 5. */
const onScale = (points: number): number => Math.min(5, Math.max(1, points));
