/*
 * The options of `wyeplan size`, one row each: from it come the command line, its help, and the place among a program's
 * criteria where a value is checked, so that an input means the same here and in program.json. This file imports
 * nothing: `--help` reads it.
 */

export interface SizeOption {
  readonly key: SizeOptionKey;
  /** What the value is, as help shows it. */
  readonly value: string;
  readonly group: string;
  readonly help: string;
  /** Where the value stands under `criteria` of program.json; null for a value of the one pipe, or one put there by hand. */
  readonly at: readonly string[] | null;
  /** How the text is put there: as it is, as a plain number, or as a list separated by commas. */
  readonly as: "text" | "number" | "list";
}

/** Stands for the use asked for in a place among the criteria. */
const USE = "$use";

const design = (key: string) => ["design_changes", key];
const system = (key: string) => ["liner_systems_changes", USE, key];

/** Key, value, help; then the place among the criteria, and how the text is put there. */
type Row = readonly [
  key: string,
  value: string,
  help: string,
  at?: readonly string[],
  as?: "number" | "list",
];

const pipe = [
  ["use", "use", "full-length (default), section, connection or one-piece"],
  ["host", "diameter", 'inside diameter of the host, "4 in"'],
  ["cover", "depth", 'soil over the crown, "8 ft"'],
  ["coverHouse", "depth", "at the building, where the pipe slopes"],
  ["coverMain", "depth", "at the main"],
  ["water", "depth", "groundwater table below the surface"],
  ["ovality", "percent", '"3 %", of the mean diameter'],
  ["surface", "surface", "street, alley, driveway, sidewalk, yard or railway"],
  ["length", "length", "of the host: for resin, cure and placing"],
  ["material", "material", "of the host: clay, concrete, PVC …"],
  ["hostCondition", "sound|worn", "for the host's roughness (default worn)"],
  ["bends", "number", "bends along the host"],
  ["sharpestBend", "degrees", "turn of the sharpest bend"],
  ["sizeChange", "percent", "(largest − smallest) ÷ smallest diameter"],
  ["slope", "percent", 'fall towards the main, "2 %"'],
  ["fixtureUnits", "number", "drainage fixture units of the building"],
  ["effluent", "kind", "domestic, grease, acid, caustic or hydrocarbon"],
  ["effluentTemperature", "temperature", 'highest, "120 °F"'],
  ["main", "diameter", "of the main, for a connection or one-piece liner"],
] as const satisfies readonly Row[];

const criteria = [
  ["design", "set", "set of design criteria", ["design"]],
  ["deterioration", "fully|partially", "state of the host", design("deterioration")],
  ["deteriorationBy", "who", "specification or engineer who says partially", design("deterioration_by")],
  ["edition", "edition", 'of X1.3: "2007b and later" or "before 2007b"', design("edition")],
  ["strengthBasis", "basis", '"long term" or "short term"', design("strength_basis")],
  ["safetyFactor", "number", "N", design("safety_factor"), "number"],
  ["enhancement", "number", "K", design("enhancement"), "number"],
  ["poisson", "number", "Poisson's ratio", design("poissons_ratio"), "number"],
  ["soil", "class", "soil class, for E′_s by table", ["soil", "class"]],
  ["soilCompaction", "compaction", "dumped, slight, moderate or high", ["soil", "compaction"]],
  ["soilModulus", "modulus", 'E′_s itself, "500 psi"', design("soil_modulus")],
  ["soilWeight", "weight", '"120 pcf"', design("soil_unit_weight")],
  ["minimumWall", "wall", '"3.5 mm"', design("minimum_wall")],
  ["liveLoadMethod", "method", "boussinesq, spread, depth table, stated or none", design("live_load_method")],
  ["wheel", "wheel", "H-10 … HS-25", design("wheel")],
  ["impact", "table", "impact table", design("impact_table")],
  ["depthTable", "table", "depth table", design("depth_table")],
  ["spreadSoil", "soil", "soil a wheel spreads through", design("spread_soil")],
  [
    "liveLoadReduction",
    "number",
    "R, by which a wheel's load is multiplied",
    design("live_load_reduction"),
    "number",
  ],
  ["liveLoad", "pressure", 'an engineer\'s own live load, "0.35 psi"', design("stated_live_load")],
  ["liveLoadBy", "who", "the engineer who states it", design("stated_live_load_by")],
] as const satisfies readonly Row[];

const liner = [
  ["system", "system", "liner system", ["liner_systems", USE]],
  ["resin", "resin", "polyester, vinyl ester or epoxy", system("resin")],
  ["modulus", "modulus", 'short-term flexural modulus, "250000 psi"', system("short_term_modulus")],
  ["strength", "strength", 'short-term flexural strength, "4500 psi"', system("flexural_strength")],
  ["modulusRetention", "percent", "part of the modulus kept in the long term", system("modulus_retention")],
  [
    "strengthRetention",
    "percent",
    "part of the strength kept in the long term",
    system("strength_retention"),
  ],
  ["longTermModulus", "modulus", "measured at the temperature of --measured-at"],
  ["longTermStrength", "strength", "measured there too"],
  ["measuredAt", "temperature", "temperature of the creep tests"],
  ["stockedWalls", "walls", '"3 mm, 4.5 mm, 6 mm"', system("stocked_walls"), "list"],
  ["voids", "percent", "part of a felt wall that is resin", system("void_ratio")],
  ["fibreFraction", "percent", "part of a glass wall's mass that is fibre", system("fibre_mass_fraction")],
  ["excess", "percent", "resin over the voids", system("excess")],
] as const satisfies readonly Row[];

const connection = [
  ["mainPart", "part", '"full circle" or "brim"', ["connection", "main_part"]],
  ["mainEachSide", "length", "along the main, each side of the joint", ["connection", "main_each_side"]],
  ["brimWidth", "width", "of a brim", ["connection", "brim_width"]],
  ["lengthUpLateral", "length", "from the main's wall", ["connection", "length_up_lateral"]],
  ["junction", "tee|wye", "", ["connection", "junction"]],
  ["junctionAngle", "degrees", "between lateral and main", ["connection", "junction_angle"], "number"],
] as const satisfies readonly Row[];

const work = [
  ["cure", "method", "ambient, hot water, steam or light", ["cure", USE]],
  ["startTemperature", "temperature", "in the pipe before cure; give --cure too"],
  ["placing", "method", "inverted, pulled in and inflated, …", ["placing", USE]],
  ["friction", "number", "of wet tube on pipe", ["placing_changes", "friction"], "number"],
  ["ropeFriction", "number", "of rope on pipe", ["placing_changes", "rope_friction"], "number"],
  ["winchLimit", "force", '"2000 lbf"', ["placing_changes", "winch_limit"]],
  ["tubeLimit", "force", "pull the tube bears", ["placing_changes", "tube_limit"]],
  ["hostPressure", "pressure", "inside pressure the host bears", ["placing_changes", "inflation", "host"]],
  ["bladder", "pressure", "rating of the bladder", ["placing_changes", "inflation", "bladder"]],
  [
    "building",
    "isolated|open",
    "whether its plumbing is shut off",
    ["placing_changes", "inflation", "building"],
  ],
  ["forecast", "temperature", "where the resin is mixed", ["wet_out", "forecast_temperature"]],
  ["mix", "ratio", '"100 : 25 by weight"'],
  ["potLife", "minutes", 'give --pot-life-at too, "30 min"'],
  ["potLifeAt", "temperature", "of the data sheet"],
  ["resinPerLength", "mass", 'from the shop\'s chart, "0.8 lb/ft"'],
] as const satisfies readonly Row[];

const flow = [
  ["hostN", "number", "Manning's n of the host; give --material too"],
  ["designFlow", "flow", '"20 gpm"', ["flow", "design_flow"]],
  ["selfCleansing", "velocity", '"2 ft/s"', ["flow", "self_cleansing"]],
  ["minimumSlopes", "code", "set of least slopes", ["flow", "minimum_slopes"]],
] as const satisfies readonly Row[];

const output = [
  [
    "units",
    "us|si",
    "units shown, and of a bare --host (default: si where all that is typed is metric, else us)",
  ],
] as const satisfies readonly Row[];

export type SizeOptionKey = (
  | (typeof pipe)[number]
  | (typeof criteria)[number]
  | (typeof liner)[number]
  | (typeof connection)[number]
  | (typeof work)[number]
  | (typeof flow)[number]
  | (typeof output)[number]
)[0];

const inGroup = (group: string, rows: readonly Row[]): SizeOption[] =>
  rows.map(([key, value, help, at, as]) => ({
    key: key as SizeOptionKey,
    value,
    group,
    help,
    at: at ?? null,
    as: as ?? "text",
  }));

export const sizeOptions: readonly SizeOption[] = [
  ...inGroup("Pipe", pipe),
  ...inGroup("Design", criteria),
  ...inGroup("Liner", liner),
  ...inGroup("Connection", connection),
  ...inGroup("Cure, placing, wet-out", work),
  ...inGroup("Flow", flow),
  ...inGroup("Output", output),
];

/** Options as typed: every value is text and carries its own unit where it has one. */
export type SizeOptions = { readonly [Key in SizeOptionKey]?: string } & {
  readonly host: string;
  readonly json?: boolean;
};

/** `--soil-modulus` of `soilModulus`. */
export const flagOf = (key: string): string =>
  `--${key.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

/** Where an option's value stands under `criteria`, for the use asked. */
export const placeOf = ({ at }: SizeOption, use: string): readonly string[] | null =>
  at === null ? null : at.map((part) => (part === USE ? use : part));
