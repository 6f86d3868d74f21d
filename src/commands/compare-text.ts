import { findColumn } from "../columns/dictionary.ts";
import { isoDate } from "../quantity/calendar.ts";
import type { Measure } from "../quantity/measure.ts";
import { showPercent } from "../quantity/percent.ts";
import { showCount, showNumber } from "../quantity/show-quantity.ts";
import type { Day } from "../quantity/si.ts";
import { wholeShares } from "../season/attribution.ts";
import type { Mover } from "../season/compare-rankings.ts";
import { type Cell, type OwnChange, ownChanges } from "../season/own-changes.ts";
import { scoreOfSteps } from "../season/rank.ts";
import { rowOfEach } from "../sheet/row-of-each.ts";
import type { NamedRun, RunComparison } from "./compare-runs.ts";
import { foldedTable } from "./folded-table.ts";
import { lateSurveysSaid } from "./late-surveys.ts";
import { left, right } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** How many movers a screen takes; the rest are counted. */
const MOVERS_SHOWN = 20;

/** Letters of a line where the terminal does not say. */
export const USUAL_WIDTH = 80;

/**
 * What moved between two runs and why, on a screen.
 *
 * @param width letters of a line
 */
export function compareText(comparison: RunComparison, all: boolean, width = USUAL_WIDTH): string {
  const { from, to, comparison: found, rankedOtherwise } = comparison;
  const own = found.movers.filter((mover) => hasMoved(comparison, mover));
  const passed = found.movers.filter((mover) => !hasMoved(comparison, mover));
  return [
    [
      `From ${headOf(from)} to ${headOf(to)}`,
      ...[...rankedOtherwise].map(
        ([name, laterals]) =>
          `${name} was saved by another version of the program: ${showCount(laterals)} lateral(s) rank or are treated otherwise by this one. Both runs are compared as this version plans them.`,
      ),
    ].join("\n"),
    changedInputs(comparison),
    agreement(comparison),
    ...(own.length === 0 ? [] : [moversTable(comparison, own, all, width)]),
    ...(passed.length === 0 ? [] : [passedText(passed)]),
    ...lists("New in the list", found.added),
    ...lists("No longer in the list", found.gone),
  ]
    .join("\n\n")
    .split("\n")
    .map((line) => (line.length > width ? wrapped(line.trimStart(), indentOf(line), "    ", width) : line))
    .join("\n");
}

/** The table of movers fits by itself: what is too long for a line is words. */
const indentOf = (line: string): string => line.slice(0, line.length - line.trimStart().length);

/** Whether a lateral moved by something of its own: its score, or its inputs. Others were only passed. */
function hasMoved(comparison: RunComparison, mover: Mover): boolean {
  return mover.scoreMove !== 0 || ownOf(comparison, mover.id).length > 0;
}

/** What changed of a lateral's own inputs between the runs. */
export function ownOf(comparison: RunComparison, id: string): readonly OwnChange[] {
  const { before, after } = comparison.tables;
  const rows = rowsOf(comparison);
  const [rowBefore, rowAfter] = [rows.before.get(id), rows.after.get(id)];
  return rowBefore === undefined || rowAfter === undefined
    ? []
    : ownChanges(before, rowBefore, after, rowAfter);
}

const known = new WeakMap<
  RunComparison,
  { before: ReadonlyMap<string, number>; after: ReadonlyMap<string, number> }
>();
function rowsOf(comparison: RunComparison) {
  const rows = known.get(comparison) ?? {
    before: rowOfEach(comparison.tables.before.laterals, "lateral"),
    after: rowOfEach(comparison.tables.after.laterals, "lateral"),
  };
  known.set(comparison, rows);
  return rows;
}

const headOf = ({ name, run }: NamedRun): string => `${name} (as of ${run.as_of})`;

function changedInputs(comparison: RunComparison): string {
  const { changed, changedSettings, from, to, tables } = comparison;
  if (changed.length === 0) return "Nothing changed: the same inputs, settings and decisions.";
  const before = new Map(from.run.inputs.map(({ file, sha256 }) => [file, sha256]));
  const after = new Map(to.run.inputs.map(({ file, sha256 }) => [file, sha256]));
  const files = [...new Set([...before.keys(), ...after.keys()])].flatMap((file) => {
    const [was, is] = [before.get(file), after.get(file)];
    if (was === is) return [];
    return [
      `${file} ${was === undefined ? "came in" : is === undefined ? "was taken out" : "has other content"}`,
    ];
  });
  const detail = (group: (typeof changed)[number]): string => {
    switch (group) {
      case "inspections":
        return `${showCount(tables.before.inspections.rows)} surveys → ${showCount(tables.after.inspections.rows)}`;
      case "lateral file":
        return `${showCount(tables.before.laterals.rows)} laterals → ${showCount(tables.after.laterals.rows)}`;
      case "decisions":
        return `${showCount(from.run.values.decisions.length)} standing → ${showCount(to.run.values.decisions.length)}`;
      case "recipe and settings":
        return changedSettings.join(", ");
      case "as-of date":
        return `${from.run.as_of} → ${to.run.as_of}`;
      default:
        return group satisfies never;
    }
  };
  return [
    "Changed inputs",
    ...changed.map((group) => `  ${group}: ${detail(group)}`),
    ...files.map((file) => `  ${file}`),
    ...notCounted(comparison),
  ].join("\n");
}

/** Surveys of a later day: no change by themselves, and none at all where the run before had the same. */
function notCounted({ from, to, tables }: RunComparison): readonly string[] {
  const late = lateSurveysSaid(tables.after, to.run.as_of);
  if (late === null) return [];
  const asBefore = late === lateSurveysSaid(tables.before, from.run.as_of);
  return [`${asBefore ? "Not changed, in both runs" : "Not counted"}: ${late}.`];
}

function agreement({ comparison, top }: RunComparison): string {
  const { tauB, rho, inBoth, scoredInBoth, selected } = comparison;
  const unscored =
    scoredInBoth === inBoth
      ? ""
      : `, but for ${showCount(inBoth - scoredInBoth)} that a recipe gives no score in one of them`;
  const ratio = (value: number | null) => (value === null ? "not defined" : value.toFixed(4));
  const overlap = selected.overlap === null ? "none" : showPercent(selected.overlap, 1);
  return [
    `Agreement of the scores of the ${showCount(inBoth)} laterals in both${unscored}: Kendall's tau-b ${ratio(tauB)}, Spearman's rho ${ratio(rho)}`,
    `Selected: the first ${showCount(top)} with paid work (a plain cut of the ranking, not a season; --top says another number, wyeplan season chooses by money). ` +
      `${showCount(selected.both)} stay in, ${showCount(selected.before - selected.both)} dropped out, ${showCount(selected.after - selected.both)} came in; overlap ${overlap}`,
  ].join("\n");
}

function moversTable(
  comparison: RunComparison,
  movers: readonly Mover[],
  all: boolean,
  width: number,
): string {
  const shown = all ? movers : movers.slice(0, MOVERS_SHOWN);
  const score = (steps: number | null) => (steps === null ? "none" : scoreOfSteps(steps).toFixed(2));
  const rows = shown.map((mover) => {
    const { places } = comparison.whyOf(mover.id);
    return {
      cells: [
        mover.id,
        `${showCount(mover.from)} → ${showCount(mover.to)}`,
        signed(mover.places),
        `${score(mover.scoreFrom)} → ${score(mover.scoreTo)}`,
        mover.selection.startsWith("stays") ? "" : mover.selection,
      ],
      why: whyText(comparison, mover.id, wholeShares(places)),
    };
  });
  const left = movers.length - shown.length;
  return [
    `Moved by something of their own: ${showCount(movers.length)} laterals (places up are towards the worst; causes add up to the places)`,
    foldedTable(MOVER_COLUMNS, "Why", rows, width),
    ...(left === 0 ? [] : [`… and ${showCount(left)} more; --all lists them, --json has everything`]),
  ].join("\n");
}

const MOVER_COLUMNS = [
  left("Lateral"),
  right("Rank"),
  right("Places"),
  right("Score"),
  left("Selection"),
] as const;

function whyText(comparison: RunComparison, id: string, shares: readonly number[]): string {
  const causes = comparison.changed.map((group, i) => `${group} ${signed(shares[i]!)}`);
  return [causes.join(", "), ...ownWords(comparison, id)].join("; ");
}

/** What changed of a lateral's own inputs, in words. */
export const ownWords = (comparison: RunComparison, id: string): readonly string[] =>
  ownOf(comparison, id).map(changeText);

function changeText(change: OwnChange): string {
  switch (change.kind) {
    case "survey added":
    case "survey taken away": {
      const grade = (value: number | null) => (value === null ? "–" : String(value));
      const what = `survey of ${isoDate(change.on as Day)} (structural ${grade(change.structural)}, O&M ${grade(change.om)})`;
      return change.kind === "survey added" ? `new ${what}` : `without the ${what}`;
    }
    case "given":
    case "decision": {
      const column = findColumn(change.column);
      // Without a decision a value is as the city or the plan has it, which is not missing.
      const isDecided = change.kind === "decision";
      const shown = (cell: Cell) =>
        isDecided && cell === null ? "as given" : cellText(cell, column?.measure ?? "text");
      const lead = isDecided ? "decided " : "";
      return `${lead}${column?.heading ?? change.column} ${shown(change.from)} → ${shown(change.to)}`;
    }
    default:
      return change satisfies never;
  }
}

/** In SI: both runs may show different units. */
const cellText = (cell: Cell, measure: Measure): string =>
  cell === null
    ? "missing"
    : typeof cell === "string"
      ? cell
      : showNumber(cell, measure, { units: "si", currency: "" });

function passedText(movers: readonly Mover[]): string {
  const most = movers.reduce((far, { places }) => Math.max(far, Math.abs(places)), 0);
  const named = (selection: Mover["selection"]) =>
    movers.filter((of) => of.selection === selection).map(({ id }) => id);
  return [
    `Moved only because others passed them: ${showCount(movers.length)} laterals, at most ${showCount(most)} places`,
    ...lists("  of them came in", named("came in")),
    ...lists("  of them dropped out", named("dropped out")),
  ].join("\n");
}

function lists(label: string, ids: readonly string[]): readonly string[] {
  if (ids.length === 0) return [];
  const more = ids.length > MOVERS_SHOWN ? `, … (${showCount(ids.length)} in all)` : "";
  return [`${label}: ${ids.slice(0, MOVERS_SHOWN).join(", ")}${more}`];
}

/** `+59`, `−59`, `0`. */
export const signed = (value: number): string =>
  value > 0 ? `+${showCount(value)}` : value < 0 ? `−${showCount(-value)}` : "0";
