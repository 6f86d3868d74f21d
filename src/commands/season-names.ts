import { idleMains } from "../season/main-first.ts";
import { type NamedCity, type SeasonRules, strangersIn } from "../season/selection/season-problem.ts";

/** A sentence for each name in the rules of the season that the program does not have: nothing is selected while one stands. */
export function strangersSaid(city: NamedCity, rules: SeasonRules): readonly string[] {
  const { laterals, districts } = strangersIn(city, rules);
  const said = (key: string, name: string, what: string) =>
    `program.json, season.${key}: found ${JSON.stringify(name)}, expected ${what} of the city's file.`;
  return [
    ...laterals.map(([key, id]) => said(key, id, "the id of a lateral")),
    ...districts.map(([key, name]) => said(key, name, "a district")),
  ];
}

/** A sentence for each name in season.mains_lined that has no effect: a slip of an id would else pass for a lined main. */
export function idleMainsSaid({ laterals, basis }: NamedCity): readonly string[] {
  return idleMains(laterals, basis).map(({ kind, name, lining }) => {
    const why =
      kind === "district"
        ? "no lateral of it has a main that is to be lined"
        : lining === ""
          ? "whether its main is to be lined is not known (column main_lining)"
          : `the main of it is ${JSON.stringify(lining)}, not "to be lined"`;
    return `program.json, season.mains_lined: ${JSON.stringify(name)} has no effect: ${why}.`;
  });
}
