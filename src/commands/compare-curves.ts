import { drawCurve } from "../pictures/curve.ts";
import type { PicturedCurve } from "../pictures/curve-picture.ts";
import type { NewCurve } from "../program/season-curves.ts";
import { readCurve } from "../season/selection/vary.ts";
import { amountText, centsOf, picturedOf } from "./curve-text.ts";
import { plainTable, right } from "./plain-table.ts";
import { showWorth, type WorthView } from "./season-words.ts";
import { wrapped } from "./wrapped.ts";

/** One amount of two curves; null where a curve does not have it, or no season keeps the rules there. */
interface ComparedPoint {
  readonly amount: number;
  readonly first: number | null;
  readonly second: number | null;
  /** How much of the difference may be what is left unproven; NaN where there is none. */
  readonly unsure: number;
}

export interface ComparedCurves {
  readonly ok: true;
  readonly vary: NewCurve["vary"];
  readonly points: readonly ComparedPoint[];
  /** What was another when they were solved, in words. */
  readonly differs: readonly string[];
}

/** Two curves over what they vary, amount by amount; or why they have nothing to compare. */
export function compareCurves(
  first: NewCurve,
  second: NewCurve,
): ComparedCurves | { readonly ok: false; readonly because: string } {
  const refused = (because: string) => ({ ok: false, because }) as const;
  const varied = ({ vary: { of, crew } }: NewCurve) => (crew === null ? of : `${of} ${crew}`);
  if (varied(first) !== varied(second))
    return refused(`one varies ${varied(first)}, the other ${varied(second)}.`);
  if (JSON.stringify(first.objective) !== JSON.stringify(second.objective))
    return refused("their objectives are others, so their worth has another meaning.");
  if (first.currency !== second.currency)
    return refused(`one is in ${first.currency}, the other in ${second.currency}.`);
  const [a, b] = [byAmount(first), byAmount(second)];
  const keys = [...new Set([...a.keys(), ...b.keys()])].sort((x, y) => x - y);
  return {
    ok: true,
    vary: first.vary,
    points: keys.map((key) => {
      const [one, two] = [a.get(key), b.get(key)];
      // From the worth found to the bound, of which the gap is a part.
      const unsure = (point: Solved | undefined) =>
        ((point?.worth ?? Number.NaN) * (point?.gap ?? Number.NaN)) / (1 - (point?.gap ?? Number.NaN));
      return {
        amount: (one ?? two)!.amount,
        first: one?.worth ?? null,
        second: two?.worth ?? null,
        unsure: Math.max(unsure(one), unsure(two)),
      };
    }),
    differs: differences(first, second),
  };
}

/** What was another when the two were solved; of the same day and rules, whether the plan was. */
function differences(first: NewCurve, second: NewCurve): readonly string[] {
  const rules = ({ season }: NewCurve) =>
    JSON.stringify({ ...(season as object | null | undefined), budget: 0 });
  const known = [
    ...(first.as_of === second.as_of ? [] : [`the day (${first.as_of} and ${second.as_of})`]),
    ...(rules(first) === rules(second) ? [] : ["the season's rules"]),
  ];
  return known.length > 0 || sharedInputs(first, second) ? known : ["what the laterals cost, gain or take"];
}

interface Solved {
  readonly amount: number;
  readonly worth: number | null;
  readonly gap: number;
}

/** By an amount that last binary digits do not tell apart: cents, millionths of a crew-day, days. */
function byAmount({ vary, points }: NewCurve): ReadonlyMap<number, Solved> {
  const keyOf = (amount: number): number =>
    vary.of === "budget" ? centsOf(amount) : vary.of === "crews" ? Math.round(amount * 1e6) : amount;
  const { points: read } = readCurve(
    points.map(({ amount, worth, gap }) => ({ amount, worth, gap: gap ?? Number.NaN })),
  );
  return new Map(read.map((point) => [keyOf(point.amount), point]));
}

/** Whether a point of both was solved from the very same; true where they share no amount. */
function sharedInputs(first: NewCurve, second: NewCurve): boolean {
  const inputs = new Map(second.points.map((point) => [point.amount, point.inputs]));
  return first.points.every(({ amount, inputs: own }) => (inputs.get(amount) ?? own) === own);
}

/** Both curves in one table and one drawing. */
export function comparedText(
  { vary, points, differs }: ComparedCurves,
  [first, second]: readonly [string, string],
  view: WorthView,
  columns: number,
): string {
  const worth = (value: number | null) => (value === null ? "" : showWorth(value, view));
  const both = points.filter((point) => point.first !== null && point.second !== null);
  const isUnsure = ({ first: a, second: b, unsure }: ComparedPoint) => a !== b && Math.abs(a! - b!) <= unsure;
  const table = plainTable(
    [right("amount"), right(first), right(second), right(`${first} less ${second}`)],
    points.map((point) => [
      amountText(vary.of, point.amount, view),
      worth(point.first),
      worth(point.second),
      point.first === null || point.second === null
        ? ""
        : `${showWorth(point.first - point.second, view)}${isUnsure(point) ? " ?" : ""}`,
    ]),
    columns,
  );
  const dots = points.flatMap(({ amount, first: a, second: b }) => [
    { x: amount, y: a, mark: "●" },
    { x: amount, y: b, mark: a !== null && a === b ? "◉" : "○" },
  ]);
  const drawn = drawCurve(dots, Math.max(20, Math.min(72, columns - 4)), 12);
  return [
    table,
    drawn.map((line) => `│ ${line}`.trimEnd()).join("\n"),
    [
      `● ${first}, ○ ${second}, ◉ both the same.`,
      both.length === 0 ? "They have no amount in common." : `${both.length} amount(s) in common.`,
      ...(both.some(isUnsure)
        ? ["?: the difference is not more than what is left unproven of the two."]
        : []),
      differs.length === 0
        ? "They were solved from the same plan."
        : `Between them changed: ${differs.join("; ")}.`,
    ]
      .map((line) => wrapped(line, "", "  ", columns))
      .join("\n"),
  ].join("\n\n");
}

export const differenceAsJson = ({ points, differs }: ComparedCurves) => ({
  changed: differs,
  points: points.map(({ amount, first, second, unsure }) => ({
    amount,
    first,
    second,
    difference: first === null || second === null ? null : first - second,
    unproven: Number.isNaN(unsure) ? null : unsure,
  })),
});

/** Two curves in one picture, over the amounts of both. */
export function picturedPair(
  [first, one]: readonly [string, NewCurve],
  [second, two]: readonly [string, NewCurve],
  view: WorthView,
): PicturedCurve {
  const compared = compareCurves(one, two);
  if (!compared.ok) throw new RangeError(`picturedPair: ${compared.because}`);
  const curveOf = (which: "first" | "second") =>
    picturedOf(
      {
        points: compared.points.map((point) => ({
          amount: point.amount,
          worth: point[which],
          gap: Number.NaN,
        })),
        marginal: [],
        knee: null,
      },
      one.vary,
      view,
    );
  const { points: others } = curveOf("second");
  return { ...curveOf("first"), name: first, beside: { name: second, ys: others.map(({ y }) => y) } };
}
