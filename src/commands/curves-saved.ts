import {
  curveNames,
  type NewCurve,
  readSavedCurve,
  type SeasonCurve,
  saveCurve,
} from "../program/season-curves.ts";
import { readSeasonRun, seasonRunNames } from "../program/season-runs.ts";
import { budgetPaysOf } from "../program/season-settings.ts";
import { type NumberStyle, showCount, showQuantity } from "../quantity/show-quantity.ts";
import { readCurve } from "../season/selection/vary.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { compareCurves, comparedText, differenceAsJson, picturedPair } from "./compare-curves.ts";
import { amountText, curveText, picturedOf } from "./curve-text.ts";
import { sayProblems } from "./load-program.ts";
import { savedAs, saveUnderLock } from "./save-under-lock.ts";
import { describeObjective, showGap, showWorth, type WorthView } from "./season-words.ts";
import { fitted, wrapped } from "./wrapped.ts";
import { isPictureName, writePicture } from "./write-picture.ts";

/** A saved curve by its name. */
export interface NamedCurve {
  readonly name: string;
  readonly run: SeasonCurve;
}

export async function curveOrSay(folder: string, name: string, io: CommandIo): Promise<NamedCurve | null> {
  const reading = await readSavedCurve(folder, name);
  if (reading.ok) return { name, run: reading.run };
  refuse(io, reading.problems);
  return null;
}

export const saveCurveOrSay = (
  folder: string,
  name: string,
  curve: NewCurve,
  io: CommandIo,
): Promise<boolean> =>
  saveUnderLock(folder, io, async (lock) =>
    savedAs(
      `Saved as curve ${name}, ${showCount(curve.points.length)} points.`,
      await saveCurve(lock, name, curve),
    ),
  );

const viewOf = ({ objective, currency, season }: NewCurve, { units }: NumberStyle): WorthView => ({
  pays: budgetPaysOf(season),
  rules: {
    objective: {
      lossAvoided: objective.loss_avoided,
      infiltrationRemoved: objective.infiltration_removed,
    },
  },
  style: { units, currency },
});

/** A curve as solved; neighbours are looked at when it is shown. */
export const curveRead = ({ points }: NewCurve) =>
  readCurve(points.map(({ amount, worth, gap }) => ({ amount, worth, gap: gap ?? Number.NaN })));

/** Shows a curve, what saved seasons lie on it, and what differs from another one. False where they cannot be compared. */
export async function showCurves(
  folder: string,
  {
    curve,
    name,
    label,
    against,
    style,
  }: {
    readonly curve: NewCurve;
    /** Null for one that is not saved yet. */
    readonly name: string | null;
    /** What it is called beside another one. */
    readonly label: string;
    readonly against: NamedCurve | null;
    readonly style: NumberStyle;
  },
  { json, picture }: { readonly json?: boolean; readonly picture?: string },
  io: CommandIo,
): Promise<boolean> {
  const read = curveRead(curve);
  const view = viewOf(curve, style);
  const compared = against === null ? null : compareCurves(curve, against.run);
  if (compared !== null && !compared.ok) {
    io.err(`${fitted(`Curve ${against?.name} cannot be compared with ${label}: ${compared.because}`, io)}\n`);
    return false;
  }
  const seasons = await seasonsOn(folder, curve);
  if (json === true) {
    const amounts = curve.points.map(({ amount }) => amount);
    const told = {
      vary: { ...curve.vary, amounts },
      ...read,
      seasons,
      ...(compared === null ? {} : { against: against?.name, differences: differenceAsJson(compared) }),
    };
    io.out(`${JSON.stringify(told, null, 2)}\n`);
  } else {
    const width = io.columns ?? 80;
    io.out(
      `${[
        ...(name === null ? [] : [headOf(name, curve)]),
        curveText(read, curve.vary, view, width),
        ...seasons.map((season) => wrapped(seasonLine(season, curve, view), "", "  ", width)),
        ...(compared === null || against === null
          ? []
          : [comparedText(compared, [label, against.name], view, width)]),
      ].join("\n\n")}\n`,
    );
  }
  if (picture !== undefined) {
    const { pictureCurve } = await import("../pictures/curve-picture.ts");
    const drawn =
      compared === null || against === null
        ? picturedOf(read, curve.vary, view)
        : picturedPair([label, curve], [against.name, against.run], view);
    await writePicture(picture, pictureCurve(drawn), io);
  }
  return true;
}

const headOf = (name: string, { saved, as_of }: NewCurve): string =>
  `Curve ${name}, saved ${saved.when} by ${saved.who}, as of ${as_of}`;

/** A saved season that was selected from the very same as a point of a curve. */
interface SeasonOnCurve {
  readonly season: string;
  readonly amount: number;
  readonly worth: number;
  /** As the curve found it; null where it found none. */
  readonly worthOnCurve: number | null;
}

async function seasonsOn(folder: string, { points }: NewCurve): Promise<readonly SeasonOnCurve[]> {
  const byInputs = new Map(points.map((point) => [point.inputs, point]));
  const found: SeasonOnCurve[] = [];
  for (const season of await seasonRunNames(folder)) {
    const reading = await readSeasonRun(folder, season);
    const point =
      reading.ok && reading.run.inputs !== undefined ? byInputs.get(reading.run.inputs) : undefined;
    if (reading.ok && point !== undefined)
      found.push({ season, amount: point.amount, worth: reading.run.worth, worthOnCurve: point.worth });
  }
  return found;
}

function seasonLine(
  { season, amount, worth, worthOnCurve }: SeasonOnCurve,
  { vary }: NewCurve,
  view: WorthView,
) {
  const at = `At ${amountText(vary.of, amount, view)} it is season ${season}`;
  if (worthOnCurve === worth) return `${at}, worth ${showWorth(worth, view)}, the same.`;
  return `${at}, which was found worth ${showWorth(worth, view)}, on the curve ${worthOnCurve === null ? "nothing" : showWorth(worthOnCurve, view)}: they were solved to another gap, or work was recorded between them.`;
}

/** `wyeplan season FOLDER --curve NAME [--against NAME] [--picture FILE]`: a saved curve again, beside another one where that is asked for. */
export async function showSavedCurve(
  folder: string,
  style: NumberStyle,
  options: {
    readonly curve: string;
    readonly against?: string;
    readonly picture?: string;
    readonly json?: boolean;
  },
  io: CommandIo,
): Promise<ExitCode> {
  if (options.picture !== undefined && !isPictureName(options.picture, io)) return EXIT.notDone;
  const own = await curveOrSay(folder, options.curve, io);
  const against = options.against === undefined ? null : await curveOrSay(folder, options.against, io);
  if (own === null || (options.against !== undefined && against === null)) return EXIT.notDone;
  const shown = await showCurves(
    folder,
    { curve: own.run, name: own.name, label: own.name, against, style },
    options,
    io,
  );
  return shown ? EXIT.done : EXIT.notDone;
}

/** `wyeplan season FOLDER --list`: what is saved of the season, seasons and curves; what cannot be read is said. */
export async function listSaved(folder: string, style: NumberStyle, io: CommandIo): Promise<ExitCode> {
  const [seasons, curves] = [await seasonRunNames(folder), await curveNames(folder)];
  let code: ExitCode = EXIT.done;
  const say = (line: string) => io.out(`${fitted(line, io)}\n`);
  if (seasons.length + curves.length === 0)
    say(
      "Nothing is saved of the season yet: wyeplan season FOLDER --save NAME saves a season, --vary … --save NAME a curve.",
    );
  for (const name of seasons) {
    const reading = await readSeasonRun(folder, name);
    if (!reading.ok) {
      sayProblems(reading.problems, io);
      code = EXIT.doneWithProblems;
      continue;
    }
    const { saved, as_of, season, chosen, works, mobilization, ended, gap } = reading.run;
    const share = budgetPaysOf(season) === "city share" ? " of the city's share" : "";
    say(
      `season ${name}: ${saved.when}, ${saved.who}; as of ${as_of}, ${showCount(chosen.length)} laterals, ${showQuantity(works + mobilization, "money", style)}${share}, ${ended}, gap ${showGap(gap)}`,
    );
  }
  for (const name of curves) {
    const reading = await readSavedCurve(folder, name);
    if (!reading.ok) {
      sayProblems(reading.problems, io);
      code = EXIT.doneWithProblems;
      continue;
    }
    const { saved, as_of, vary, points } = reading.run;
    const view = viewOf(reading.run, style);
    const [first, last] = [points[0]!, points.at(-1)!];
    say(
      `curve ${name}: ${saved.when}, ${saved.who}; as of ${as_of}, ${vary.of}${vary.crew === null ? "" : ` ${vary.crew}`} ${amountText(vary.of, first.amount, view)} to ${amountText(vary.of, last.amount, view)}, ${showCount(points.length)} points; ${describeObjective(view.rules)}`,
    );
  }
  return code;
}
