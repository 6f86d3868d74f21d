import { SETTINGS_FILE } from "../program/program-files.ts";
import type { Problem } from "../quantity/problem.ts";
import { idleMains } from "../season/main-first.ts";
import { type NamedCity, type SeasonRules, strangersIn } from "../season/selection/season-problem.ts";

/** A problem for each name in the rules of the season that the program does not have: nothing is selected while one stands. */
export function strangers(city: NamedCity, rules: SeasonRules): readonly Problem[] {
  const { laterals, districts } = strangersIn(city, rules);
  const problem = (key: string, name: string, what: string) =>
    named(key, name, `${what} of the city's file`, "No season is selected while it stands: correct it.");
  return [
    ...laterals.map(([key, id]) => problem(key, id, "the id of a lateral")),
    ...districts.map(([key, name]) => problem(key, name, "a district")),
  ];
}

const TO_BE_LINED = "a lateral whose main is to be lined, or a district that has one";

/** A problem for each name in season.mains_lined that has no effect: a slip of an id would else pass for a lined main. */
export function idleMainProblems({ laterals, basis }: NamedCity): readonly Problem[] {
  return idleMains(laterals, basis).map(({ kind, name, lining }) => {
    const why =
      kind === "district"
        ? "no lateral of it has a main that is to be lined"
        : lining === ""
          ? "whether its main is to be lined is not known (column main_lining)"
          : `the main of it is ${JSON.stringify(lining)}, not "to be lined"`;
    return named("mains_lined", name, TO_BE_LINED, `${JSON.stringify(name)} has no effect: ${why}.`);
  });
}

/** Whether a problem is one that {@link idleMainProblems} found: a decision may have mended it. */
export const isOfIdleMain = ({ expected }: Problem): boolean => expected === TO_BE_LINED;

const named = (key: string, found: string, expected: string, remedy: string): Problem => ({
  severity: "noted",
  file: SETTINGS_FILE,
  row: null,
  column: `season.${key}`,
  found,
  expected,
  remedy,
});
