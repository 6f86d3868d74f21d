/*
 * The options of `wyeplan size`, one row each: from it come the command line, its help, and the place among a program's
 * criteria where a value is checked, so that an input means the same here and in program.json. This file imports
 * nothing: `--help` reads it.
 */

/** Stands for the use asked for in a place among the criteria. */
const USE = "$use";

export interface SizeOption {
  readonly key: string;
  /** What the value is, as help shows it. */
  readonly value: string;
  readonly group: "Pipe" | "Design" | "Liner" | "Connection" | "Cure, placing, wet-out" | "Flow" | "Output";
  readonly help: string;
  /** Where the value stands under `criteria` of program.json; not given for a value of the one pipe. */
  readonly at?: readonly string[];
  /** How the text is put there: as it is, as a plain number, or as a list separated by commas. */
  readonly as?: "number" | "list";
}

const design = (key: string) => ["design_changes", key] as const;
const liner = (key: string) => ["liner_systems_changes", USE, key] as const;

export const sizeOptions = [
  { key: "use", value: "use", group: "Pipe", help: "full-length (default), section or connection" },
  { key: "host", value: "diameter", group: "Pipe", help: 'inside diameter of the host, "4 in"' },
  { key: "cover", value: "depth", group: "Pipe", help: 'soil over the crown, "8 ft"' },
  { key: "coverHouse", value: "depth", group: "Pipe", help: "at the building, where the pipe slopes" },
  { key: "coverMain", value: "depth", group: "Pipe", help: "at the main" },
  { key: "water", value: "depth", group: "Pipe", help: "groundwater table below the surface" },
  { key: "ovality", value: "percent", group: "Pipe", help: '"3 %", of the mean diameter' },
  {
    key: "surface",
    value: "surface",
    group: "Pipe",
    help: "street, alley, driveway, sidewalk, yard or railway",
  },
  { key: "length", value: "length", group: "Pipe", help: "of the host: for resin, cure and placing" },
  { key: "material", value: "material", group: "Pipe", help: "of the host: clay, concrete, PVC …" },
  {
    key: "hostCondition",
    value: "sound|worn",
    group: "Pipe",
    help: "for the host's roughness (default worn)",
  },
  { key: "bends", value: "number", group: "Pipe", help: "bends along the host" },
  { key: "sharpestBend", value: "degrees", group: "Pipe", help: "turn of the sharpest bend" },
  { key: "sizeChange", value: "percent", group: "Pipe", help: "(largest − smallest) ÷ smallest diameter" },
  { key: "slope", value: "percent", group: "Pipe", help: 'fall towards the main, "2 %"' },
  { key: "fixtureUnits", value: "number", group: "Pipe", help: "drainage fixture units of the building" },
  {
    key: "effluent",
    value: "kind",
    group: "Pipe",
    help: "domestic, grease, acid, caustic or hydrocarbon",
  },
  { key: "effluentTemperature", value: "temperature", group: "Pipe", help: 'highest, "120 °F"' },
  { key: "main", value: "diameter", group: "Pipe", help: "of the main, for a connection liner" },

  { key: "design", value: "set", group: "Design", help: "set of design criteria", at: ["design"] },
  {
    key: "deterioration",
    value: "fully|partially",
    group: "Design",
    help: "state of the host",
    at: design("deterioration"),
  },
  {
    key: "deteriorationBy",
    value: "who",
    group: "Design",
    help: "specification or engineer who says partially",
    at: design("deterioration_by"),
  },
  {
    key: "edition",
    value: "edition",
    group: "Design",
    help: 'of X1.3: "2007b and later" or "before 2007b"',
    at: design("edition"),
  },
  {
    key: "strengthBasis",
    value: "basis",
    group: "Design",
    help: '"long term" or "short term"',
    at: design("strength_basis"),
  },
  {
    key: "safetyFactor",
    value: "number",
    group: "Design",
    help: "N",
    at: design("safety_factor"),
    as: "number",
  },
  {
    key: "enhancement",
    value: "number",
    group: "Design",
    help: "K",
    at: design("enhancement"),
    as: "number",
  },
  {
    key: "poisson",
    value: "number",
    group: "Design",
    help: "Poisson's ratio",
    at: design("poissons_ratio"),
    as: "number",
  },
  {
    key: "soil",
    value: "class",
    group: "Design",
    help: "soil class, for E′_s by table",
    at: ["soil", "class"],
  },
  {
    key: "soilCompaction",
    value: "compaction",
    group: "Design",
    help: "dumped, slight, moderate or high",
    at: ["soil", "compaction"],
  },
  {
    key: "soilModulus",
    value: "modulus",
    group: "Design",
    help: 'E′_s itself, "500 psi"',
    at: design("soil_modulus"),
  },
  {
    key: "soilWeight",
    value: "weight",
    group: "Design",
    help: '"120 pcf"',
    at: design("soil_unit_weight"),
  },
  { key: "minimumWall", value: "wall", group: "Design", help: '"3.5 mm"', at: design("minimum_wall") },
  {
    key: "liveLoadMethod",
    value: "method",
    group: "Design",
    help: "boussinesq, spread, depth table, stated or none",
    at: design("live_load_method"),
  },
  { key: "wheel", value: "wheel", group: "Design", help: "H-10 … HS-25", at: design("wheel") },
  { key: "impact", value: "table", group: "Design", help: "impact table", at: design("impact_table") },
  { key: "depthTable", value: "table", group: "Design", help: "depth table", at: design("depth_table") },
  {
    key: "spreadSoil",
    value: "soil",
    group: "Design",
    help: "soil a wheel spreads through",
    at: design("spread_soil"),
  },
  {
    key: "liveLoadReduction",
    value: "number",
    group: "Design",
    help: "R, by which a wheel's load is multiplied",
    at: design("live_load_reduction"),
    as: "number",
  },
  {
    key: "liveLoad",
    value: "pressure",
    group: "Design",
    help: 'an engineer\'s own live load, "0.35 psi"',
    at: design("stated_live_load"),
  },
  {
    key: "liveLoadBy",
    value: "who",
    group: "Design",
    help: "the engineer who states it",
    at: design("stated_live_load_by"),
  },

  { key: "system", value: "system", group: "Liner", help: "liner system", at: ["liner_systems", USE] },
  {
    key: "resin",
    value: "resin",
    group: "Liner",
    help: "polyester, vinyl ester or epoxy",
    at: liner("resin"),
  },
  {
    key: "modulus",
    value: "modulus",
    group: "Liner",
    help: 'short-term flexural modulus, "250000 psi"',
    at: liner("short_term_modulus"),
  },
  {
    key: "strength",
    value: "strength",
    group: "Liner",
    help: 'short-term flexural strength, "4500 psi"',
    at: liner("flexural_strength"),
  },
  {
    key: "modulusRetention",
    value: "percent",
    group: "Liner",
    help: "part of the modulus kept in the long term",
    at: liner("modulus_retention"),
  },
  {
    key: "strengthRetention",
    value: "percent",
    group: "Liner",
    help: "part of the strength kept in the long term",
    at: liner("strength_retention"),
  },
  {
    key: "longTermModulus",
    value: "modulus",
    group: "Liner",
    help: "measured at the temperature of --measured-at",
  },
  { key: "longTermStrength", value: "strength", group: "Liner", help: "measured there too" },
  { key: "measuredAt", value: "temperature", group: "Liner", help: "temperature of the creep tests" },
  {
    key: "stockedWalls",
    value: "walls",
    group: "Liner",
    help: '"3 mm, 4.5 mm, 6 mm"',
    at: liner("stocked_walls"),
    as: "list",
  },
  {
    key: "voids",
    value: "percent",
    group: "Liner",
    help: "part of a felt wall that is resin",
    at: liner("void_ratio"),
  },
  {
    key: "fibreFraction",
    value: "percent",
    group: "Liner",
    help: "part of a glass wall's mass that is fibre",
    at: liner("fibre_mass_fraction"),
  },
  { key: "excess", value: "percent", group: "Liner", help: "resin over the voids", at: liner("excess") },

  {
    key: "mainPart",
    value: "part",
    group: "Connection",
    help: '"full circle" or "brim"',
    at: ["connection", "main_part"],
  },
  {
    key: "mainEachSide",
    value: "length",
    group: "Connection",
    help: "along the main, each side of the joint",
    at: ["connection", "main_each_side"],
  },
  {
    key: "brimWidth",
    value: "width",
    group: "Connection",
    help: "of a brim",
    at: ["connection", "brim_width"],
  },
  {
    key: "lengthUpLateral",
    value: "length",
    group: "Connection",
    help: "from the main's wall",
    at: ["connection", "length_up_lateral"],
  },
  { key: "junction", value: "tee|wye", group: "Connection", help: "", at: ["connection", "junction"] },
  {
    key: "junctionAngle",
    value: "degrees",
    group: "Connection",
    help: "between lateral and main",
    at: ["connection", "junction_angle"],
    as: "number",
  },

  {
    key: "cure",
    value: "method",
    group: "Cure, placing, wet-out",
    help: "ambient, hot water, steam or light",
    at: ["cure", USE],
  },
  {
    key: "startTemperature",
    value: "temperature",
    group: "Cure, placing, wet-out",
    help: "in the pipe before cure; give --cure too",
  },
  {
    key: "placing",
    value: "method",
    group: "Cure, placing, wet-out",
    help: "inverted, pulled in and inflated, …",
    at: ["placing", USE],
  },
  {
    key: "friction",
    value: "number",
    group: "Cure, placing, wet-out",
    help: "of wet tube on pipe",
    at: ["placing_changes", "friction"],
    as: "number",
  },
  {
    key: "ropeFriction",
    value: "number",
    group: "Cure, placing, wet-out",
    help: "of rope on pipe",
    at: ["placing_changes", "rope_friction"],
    as: "number",
  },
  {
    key: "winchLimit",
    value: "force",
    group: "Cure, placing, wet-out",
    help: '"2000 lbf"',
    at: ["placing_changes", "winch_limit"],
  },
  {
    key: "tubeLimit",
    value: "force",
    group: "Cure, placing, wet-out",
    help: "pull the tube bears",
    at: ["placing_changes", "tube_limit"],
  },
  {
    key: "hostPressure",
    value: "pressure",
    group: "Cure, placing, wet-out",
    help: "inside pressure the host bears",
    at: ["placing_changes", "inflation", "host"],
  },
  {
    key: "bladder",
    value: "pressure",
    group: "Cure, placing, wet-out",
    help: "rating of the bladder",
    at: ["placing_changes", "inflation", "bladder"],
  },
  {
    key: "building",
    value: "isolated|open",
    group: "Cure, placing, wet-out",
    help: "whether its plumbing is shut off",
    at: ["placing_changes", "inflation", "building"],
  },
  {
    key: "forecast",
    value: "temperature",
    group: "Cure, placing, wet-out",
    help: "where the resin is mixed",
    at: ["wet_out", "forecast_temperature"],
  },
  { key: "mix", value: "ratio", group: "Cure, placing, wet-out", help: '"100 : 25 by weight"' },
  {
    key: "potLife",
    value: "minutes",
    group: "Cure, placing, wet-out",
    help: 'give --pot-life-at too, "30 min"',
  },
  { key: "potLifeAt", value: "temperature", group: "Cure, placing, wet-out", help: "of the data sheet" },
  {
    key: "resinPerLength",
    value: "mass",
    group: "Cure, placing, wet-out",
    help: 'from the shop\'s chart, "0.8 lb/ft"',
  },

  { key: "hostN", value: "number", group: "Flow", help: "Manning's n of the host; give --material too" },
  { key: "designFlow", value: "flow", group: "Flow", help: '"20 gpm"', at: ["flow", "design_flow"] },
  {
    key: "selfCleansing",
    value: "velocity",
    group: "Flow",
    help: '"2 ft/s"',
    at: ["flow", "self_cleansing"],
  },
  {
    key: "minimumSlopes",
    value: "code",
    group: "Flow",
    help: "set of least slopes",
    at: ["flow", "minimum_slopes"],
  },

  {
    key: "units",
    value: "us|si",
    group: "Output",
    help: "units shown, and of a bare --host (default us)",
  },
] as const satisfies readonly SizeOption[];

export type SizeOptionKey = (typeof sizeOptions)[number]["key"];

/** Options as typed: every value is text and carries its own unit where it has one. */
export type SizeOptions = { readonly [Key in SizeOptionKey]?: string } & {
  readonly host: string;
  readonly json?: boolean;
};

/** `--soil-modulus` of `soilModulus`. */
export const flagOf = (key: string): string =>
  `--${key.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

/** Where an option's value stands under `criteria`, for the use asked. */
export const placeOf = (option: SizeOption, use: string): readonly string[] | null =>
  option.at === undefined ? null : option.at.map((part) => (part === USE ? use : part));
