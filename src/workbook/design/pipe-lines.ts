import type { Measure } from "../../quantity/measure.ts";
import type { DesignLine, GivenLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";

/** Where the values of a lateral are from; the line "assumed or decided" tells which are not the city's. */
const CITY = "the city's files, a decision or an assumption";
const ENGINE = "found by the program along the run; the search is not repeated here";

/** A value of the lateral. */
export const ofLateral = (
  key: string,
  symbol: string,
  what: string,
  measure: Measure,
  value: (ring: DesignRing) => number | string,
  source: string,
): GivenLine => ({ kind: "given", per: "lateral", key, symbol, what, measure, value, source });

/** What is known of the pipe, of its ground and of the liner in it. */
export const pipeLines: readonly DesignLine[] = [
  { kind: "section", title: "Pipe and ground" },
  ofLateral("part", "", "liner", "text", ({ part }) => part, "the treatment chosen"),
  ofLateral("surface", "", "surface", "text", ({ wall }) => wall.inputs.surface.value, CITY),
  ofLateral("D", "D", "host inside diameter", "diameter", ({ wall }) => wall.inputs.hostDiameter.value, CITY),
  ofLateral("q", "q", "ovality", "percent", ({ wall }) => wall.inputs.ovality.value, CITY),
  ofLateral(
    "H_house",
    "",
    "cover at the house",
    "length",
    ({ wall }) => wall.inputs.coverAtHouse.value,
    CITY,
  ),
  ofLateral("H_main", "", "cover at the main", "length", ({ wall }) => wall.inputs.coverAtMain.value, CITY),
  ofLateral("H", "H", "worst cover over the crown", "length", ({ wall }) => wall.worst.cover, ENGINE),
  ofLateral("at", "", "place along the run, 0 at the house", "percent", ({ wall }) => wall.worst.at, ENGINE),
  ofLateral(
    "d",
    "d",
    "water table below the surface",
    "length",
    ({ wall }) => wall.inputs.waterTableDepth.value,
    CITY,
  ),
  { ...ofLateral("assumed", "", "assumed or decided", "text", assumedInputs, ""), optional: true },

  { kind: "section", title: "Liner" },
  ofLateral(
    "system",
    "",
    "system",
    "text",
    ({ wall }) => wall.system.label,
    "the program's choice for this use",
  ),
  ofLateral(
    "E_S",
    "E_S",
    "flexural modulus, short term",
    "modulus",
    ({ wall }) => wall.material.shortTermModulus,
    "the liner's properties on the sheet Basis",
  ),
  ofLateral(
    "E_L",
    "E_L",
    "flexural modulus, long term",
    "modulus",
    ({ wall }) => wall.material.longTermModulus,
    "the same, at the effluent's temperature",
  ),
  ofLateral(
    "S_S",
    "σ_S",
    "flexural strength, short term",
    "modulus",
    ({ wall }) => wall.material.shortTermStrength,
    "the same",
  ),
  ofLateral(
    "S_L",
    "σ_L",
    "flexural strength, long term",
    "modulus",
    ({ wall }) => wall.material.longTermStrength,
    "the same",
  ),
];

/** Which inputs are not the city's or a survey's. */
function assumedInputs({ wall }: DesignRing): string {
  return Object.entries(wall.inputs)
    .filter(([, { origin }]) => origin === "assumed" || origin === "estimated" || origin === "decided")
    .map(([key, { origin }]) => `${names[key as keyof typeof names]} ${origin}`)
    .join(", ");
}

const names = {
  hostDiameter: "diameter",
  ovality: "ovality",
  coverAtHouse: "cover at house",
  coverAtMain: "cover at main",
  waterTableDepth: "water table",
  surface: "surface",
} as const satisfies Record<keyof DesignRing["wall"]["inputs"], string>;
