import { type CrewKind, crewKinds } from "../columns/plan-columns.ts";
import { curveNameProblems, type NewCurve } from "../program/season-curves.ts";
import { isoDate } from "../quantity/calendar.ts";
import { day } from "../quantity/si.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { crewDaysOf } from "../season/season-fit.ts";
import type { SeasonRules } from "../season/selection/season-problem.ts";
import { refuse } from "./change-decisions.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { centsOf } from "./curve-text.ts";
import { curveOrSay, saveCurveOrSay, showCurves } from "./curves-saved.ts";
import { exitCodeOf } from "./load-program.ts";
import { seasonInputs } from "./season-inputs.ts";
import type { ProgramInView } from "./season-saved.ts";
import { toSolve, viewOf } from "./season-view.ts";
import { solveInThread } from "./solve-in-thread.ts";
import { readVariation, type Variation } from "./vary-words.ts";
import { isPictureName } from "./write-picture.ts";

/** `wyeplan season FOLDER --vary budget 500000..3000000 by 250000 [--save NAME] [--against NAME]`: what more or less of one thing would change. */
export async function varySeason(
  folder: string,
  { program, settings, view }: ProgramInView,
  options: {
    readonly vary: readonly string[];
    readonly json?: boolean;
    readonly gap: number;
    readonly picture?: string;
    readonly save?: string;
    readonly against?: string;
  },
  io: CommandIo,
): Promise<ExitCode> {
  const read = readVariation(options.vary, crewKinds);
  if (!read.ok) {
    io.err(`${read.why}\n`);
    return EXIT.notDone;
  }
  if (options.picture !== undefined && !isPictureName(options.picture, io)) return EXIT.notDone;
  const { variation } = read;
  if (variation.of === "season" && program.basis.calendar === null) {
    io.err('--vary season needs the season\'s calendar: add "season": { "calendar": … } to program.json.\n');
    return EXIT.notDone;
  }
  const against = options.against === undefined ? null : await curveOrSay(folder, options.against, io);
  if (options.against !== undefined && against === null) return EXIT.notDone;
  // Before a search that takes minutes in a big city.
  const unnamed = options.save === undefined ? [] : await curveNameProblems(folder, options.save);
  if (unnamed.length > 0) return refuse(io, unnamed);
  const points = variation.amounts.map((amount) => pointOf(program, view.rules, variation, amount));
  const solved = await solveInThread(
    points.map(({ rules, calendar }) => toSolve(viewOf(program, rules, calendar))),
    { gap: options.gap },
  );
  const curve: NewCurve = {
    saved: { when: io.now(), who: io.who },
    as_of: isoDate(program.basis.program.asOf),
    currency: program.basis.program.currency,
    season: settings.season,
    objective: {
      loss_avoided: view.rules.objective.lossAvoided,
      infiltration_removed: view.rules.objective.infiltrationRemoved,
    },
    vary: { of: variation.of, crew: variation.crew as CrewKind | null },
    points: points.flatMap(({ amount, rules, calendar }, i) => {
      const selection = solved[i]?.selection;
      if (selection === undefined) return [];
      const { worth, gap } = selection.ok ? selection : { worth: null, gap: null };
      // Steps add up to last binary digits that nobody asked for.
      const written = variation.of === "budget" ? centsOf(amount) / 100 : amount;
      return [{ amount: written, worth, gap, inputs: seasonInputs(program, rules, calendar) }];
    }),
  };
  const shown = await showCurves(
    folder,
    { curve, name: null, label: options.save ?? "this one", against, style: program.basis.program },
    options,
    io,
  );
  if (!shown) return EXIT.notDone;
  if (options.save !== undefined && !(await saveCurveOrSay(folder, options.save, curve, io)))
    return EXIT.notDone;
  return exitCodeOf(program);
}

/** The rules and calendar of the season with another amount of what is varied. */
function pointOf(
  { basis: { calendar, seasonDays } }: PlannedProgram,
  rules: SeasonRules,
  { of, crew }: Variation,
  amount: number,
) {
  switch (of) {
    case "budget":
      return { amount, rules: { ...rules, budget: centsOf(amount) }, calendar };
    case "crews":
      return { amount, rules: { ...rules, crewDays: { ...rules.crewDays, [crew ?? ""]: amount } }, calendar };
    case "season": {
      if (calendar === null) throw new RangeError("varySeason: a season without a calendar");
      const varied = { ...calendar, ends: isoDate(day(amount)) };
      const has = crewDaysOf(varied, seasonDays);
      return { amount, rules: { ...rules, crewDays: noMoreThan(rules.crewDays, has) }, calendar: varied };
    }
    default:
      return of satisfies never;
  }
}

/** Of crew-days stated and crew-days a calendar has, the fewer; none stated is no limit but the calendar's. */
const noMoreThan = (
  stated: Readonly<Partial<Record<string, number>>>,
  has: Readonly<Record<string, number>>,
): Readonly<Record<string, number>> =>
  Object.fromEntries(
    Object.entries(has).map(([crew, days]) => [crew, Math.min(stated[crew] ?? Infinity, days)]),
  );
