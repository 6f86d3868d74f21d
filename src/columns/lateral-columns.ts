import type { Column } from "./column.ts";

export const hostMaterials = [
  "clay",
  "concrete",
  "cast iron",
  "ductile iron",
  "steel",
  "PVC",
  "ABS",
  "polyethylene",
  "bituminous fibre",
  "asbestos cement",
] as const;
export type HostMaterial = (typeof hostMaterials)[number];

export const surfaces = ["street", "alley", "driveway", "sidewalk", "yard", "railway"] as const;
export type Surface = (typeof surfaces)[number];

export const buildings = [
  "house",
  "apartments",
  "business",
  "restaurant",
  "school",
  "hospital",
  "industry",
] as const;
export type Building = (typeof buildings)[number];

export const crossBoreStates = ["cleared", "not cleared", "found"] as const;
export type CrossBoreState = (typeof crossBoreStates)[number];

/** Whether the main is lined: a connection is done after its main. */
export const mainLinings = ["not lined", "to be lined", "lined"] as const;
export type MainLining = (typeof mainLinings)[number];

/** From where a crew can get into the lateral. */
export const accessWays = ["cleanout", "building only", "main only", "needs new cleanout"] as const;
export type AccessWay = (typeof accessWays)[number];

/** What the sewage carries that a liner resin must stand; one word, the hardest on the resin. */
export const effluents = ["domestic", "grease", "acid", "caustic", "hydrocarbon"] as const;
export type EffluentKind = (typeof effluents)[number];

/** What the city's lateral file gives: one row a lateral. Believable ranges are ours, wide enough for any lateral. */
export const lateralColumns = [
  {
    key: "lateral",
    heading: "Lateral",
    measure: "text",
    stage: "given",
    help: "The city's own id of the lateral, kept as text.",
    required: true,
    shownAtFirst: true,
  },
  {
    key: "district",
    heading: "District",
    measure: "text",
    stage: "given",
    help: "The city's own grouping, after the program's alias table.",
    shownAtFirst: true,
  },
  {
    key: "location",
    heading: "Location",
    measure: "text",
    stage: "given",
    help: "Street address or other words that lead a crew to the lateral. No occupant data.",
  },
  {
    key: "host_diameter",
    heading: "Host dia.",
    measure: "diameter",
    stage: "given",
    help: "Inside diameter of the host pipe.",
    range: [50, 400],
    decidable: true,
    shownAtFirst: true,
  },
  {
    key: "host_length",
    heading: "Length",
    measure: "length",
    stage: "given",
    help: "Length of the host pipe from building to main.",
    range: [0.5, 150],
    decidable: true,
    shownAtFirst: true,
  },
  {
    key: "host_material",
    heading: "Material",
    measure: "code",
    words: hostMaterials,
    stage: "given",
    help: "Material of the host pipe.",
    decidable: true,
    shownAtFirst: true,
  },
  {
    key: "install_year",
    heading: "Installed",
    measure: "year",
    stage: "given",
    help: "Year the host pipe was laid.",
    range: [1850, 2100],
    decidable: true,
  },
  {
    key: "cover_main",
    heading: "Cover at main",
    measure: "length",
    stage: "given",
    help: "Soil over the crown of the lateral where it meets the main.",
    range: [0.2, 15],
    decidable: true,
  },
  {
    key: "cover_house",
    heading: "Cover at house",
    measure: "length",
    stage: "given",
    help: "Soil over the crown of the lateral at the building end.",
    range: [0.1, 15],
    decidable: true,
  },
  {
    key: "water_table_depth",
    heading: "Water table",
    measure: "length",
    stage: "given",
    help: "Depth of the groundwater table below the surface, at its highest.",
    range: [0, 50],
    decidable: true,
  },
  {
    key: "surface",
    heading: "Surface",
    measure: "code",
    words: surfaces,
    stage: "given",
    help: "What is over the lateral; it decides the live load and the restoration.",
    decidable: true,
  },
  {
    key: "main_diameter",
    heading: "Main dia.",
    measure: "diameter",
    stage: "given",
    help: "Inside diameter of the main at the connection.",
    range: [100, 3000],
    decidable: true,
  },
  {
    key: "cleanout",
    heading: "Cleanout",
    measure: "flag",
    stage: "given",
    help: "Whether there is a cleanout a liner can be placed from.",
    decidable: true,
  },
  {
    key: "cross_bore",
    heading: "Cross-bore",
    measure: "code",
    words: crossBoreStates,
    stage: "given",
    help: "Whether the lateral is cleared of utilities bored through it. Missing means unknown, and unknown is unsafe.",
    decidable: true,
  },
  {
    key: "building",
    heading: "Building",
    measure: "code",
    words: buildings,
    stage: "given",
    help: "What the lateral serves; it is part of the consequence of a failure.",
    decidable: true,
  },
  {
    key: "backups",
    heading: "Backups",
    measure: "count",
    stage: "given",
    help: "Sewer backups reported for this lateral in the last five years.",
    range: [0, 200],
    decidable: true,
  },
  {
    key: "bends",
    heading: "Bends",
    measure: "count",
    stage: "given",
    help: "Bends along the lateral that a liner must pass.",
    range: [0, 50],
    decidable: true,
  },
  {
    key: "sharpest_bend",
    heading: "Sharpest bend",
    measure: "degrees",
    stage: "given",
    help: "Turn of the sharpest bend, 0 for a straight lateral.",
    range: [0, 180],
    decidable: true,
  },
  {
    key: "size_change",
    heading: "Size change",
    measure: "percent",
    stage: "given",
    help: "Greatest change of inside diameter along the host: (largest − smallest) ÷ smallest.",
    range: [0, 1],
    decidable: true,
  },
  {
    key: "slope",
    heading: "Slope",
    measure: "percent",
    stage: "given",
    help: "Fall of the lateral towards the main over its length.",
    range: [0, 1],
    decidable: true,
  },
  {
    key: "fixture_units",
    heading: "Fixture units",
    measure: "count",
    stage: "given",
    help: "Drainage fixture units of the building by the local plumbing code.",
    range: [0, 100000],
    decidable: true,
  },
  {
    key: "effluent",
    heading: "Effluent",
    measure: "code",
    words: effluents,
    stage: "given",
    help: "What the sewage carries that a liner resin must stand; of several, the hardest.",
    decidable: true,
  },
  {
    key: "effluent_temperature",
    heading: "Effluent temp.",
    measure: "temperature",
    stage: "given",
    help: "Highest temperature of the sewage in the lateral.",
    range: [0, 150],
    decidable: true,
  },
  {
    key: "main_lining",
    heading: "Main lining",
    measure: "code",
    words: mainLinings,
    stage: "given",
    help: "Whether the main at the connection is lined, is to be lined, or neither.",
    decidable: true,
  },
  {
    key: "access",
    heading: "Access",
    measure: "code",
    words: accessWays,
    stage: "given",
    help: "From where a crew can get into the lateral, where more is known than whether there is a cleanout.",
    decidable: true,
  },
  {
    key: "x",
    heading: "X",
    measure: "coordinate",
    stage: "given",
    help: "First coordinate, in the city's own system (longitude when the system is WGS 84).",
  },
  {
    key: "y",
    heading: "Y",
    measure: "coordinate",
    stage: "given",
    help: "Second coordinate, in the city's own system (latitude when the system is WGS 84).",
  },
] as const satisfies readonly Column[];

/** The end of the lateral a camera started from. */
export const surveyStarts = ["from main", "from house"] as const;
export type SurveyStart = (typeof surveyStarts)[number];

/** What the city's inspection file gives: one row a survey. */
export const inspectionColumns = [
  {
    key: "lateral",
    heading: "Lateral",
    measure: "text",
    stage: "given",
    help: "Id of the lateral that was surveyed.",
    required: true,
  },
  {
    key: "inspected_on",
    heading: "Inspected",
    measure: "date",
    stage: "inspection",
    help: "Day of the survey.",
    required: true,
  },
  {
    key: "structural_grade",
    heading: "Structural",
    measure: "grade",
    stage: "inspection",
    help: "Worst structural grade seen, 1 best to 5 worst, 0 no defect.",
    range: [0, 5],
  },
  {
    key: "om_grade",
    heading: "O&M",
    measure: "grade",
    stage: "inspection",
    help: "Worst operation and maintenance grade seen (roots, deposits, infiltration), 1 best to 5 worst, 0 no defect.",
    range: [0, 5],
  },
  {
    key: "structural_quick",
    heading: "Struct. quick",
    measure: "text",
    stage: "inspection",
    help: "Structural quick rating, four characters, kept as text.",
  },
  {
    key: "om_quick",
    heading: "O&M quick",
    measure: "text",
    stage: "inspection",
    help: "Operation and maintenance quick rating, four characters, kept as text.",
  },
  {
    key: "connection_grade",
    heading: "Connection",
    measure: "grade",
    stage: "inspection",
    help: "Worst grade seen at the connection to the main.",
    range: [0, 5],
  },
  {
    key: "surveyed_length",
    heading: "Surveyed",
    measure: "length",
    stage: "inspection",
    help: "Length the camera covered.",
    range: [0, 150],
  },
  {
    key: "survey_complete",
    heading: "Complete",
    measure: "flag",
    stage: "inspection",
    help: "Whether the camera covered the whole lateral.",
  },
  {
    key: "stopped_because",
    heading: "Stopped by",
    measure: "text",
    stage: "inspection",
    help: "Why an incomplete survey stopped.",
  },
  {
    key: "ovality",
    heading: "Ovality",
    measure: "percent",
    stage: "inspection",
    help: "Measured ovality: (greatest − mean diameter) ÷ mean diameter.",
    range: [0, 0.5],
  },
  {
    key: "direction",
    heading: "Direction",
    measure: "code",
    words: surveyStarts,
    stage: "inspection",
    help: "The end the camera started from; it pairs two surveys that stopped short from opposite ends.",
  },
] as const satisfies readonly Column[];

/** What the city's observation file gives: one row a thing seen in a survey. */
export const observationColumns = [
  {
    key: "lateral",
    heading: "Lateral",
    measure: "text",
    stage: "given",
    help: "Id of the lateral that was surveyed.",
    required: true,
  },
  {
    key: "inspected_on",
    heading: "Inspected",
    measure: "date",
    stage: "inspection",
    help: "Day of the survey the observation is of.",
    required: true,
  },
  {
    key: "direction",
    heading: "Direction",
    measure: "code",
    words: surveyStarts,
    stage: "inspection",
    help: "The end the camera started from; it tells two surveys of one day apart.",
  },
  {
    key: "from",
    heading: "From",
    measure: "length",
    stage: "inspection",
    help: "Distance from where the survey started to where the observation begins.",
    range: [0, 150],
  },
  {
    key: "to",
    heading: "To",
    measure: "length",
    stage: "inspection",
    help: "Distance to where a continuous observation ends; missing for one at a point.",
    range: [0, 150],
  },
  {
    key: "length_mark",
    heading: "Length mark",
    measure: "text",
    stage: "inspection",
    help: "For files that write a continuous observation as two rows: start or finish and the number of the length, such as S01 and F01.",
  },
  {
    key: "kind",
    heading: "Kind",
    measure: "text",
    stage: "inspection",
    help: "What was seen: the city's code or word, read by the program's code map.",
    required: true,
  },
  {
    key: "grade",
    heading: "Grade",
    measure: "grade",
    stage: "inspection",
    help: "Grade of the observation, 1 best to 5 worst, 0 no defect.",
    range: [0, 5],
  },
  {
    key: "clock",
    heading: "Clock",
    measure: "text",
    stage: "inspection",
    help: "Where on the pipe's circle, as the hours of a clock, kept as text.",
  },
  {
    key: "turn",
    heading: "Turn",
    measure: "degrees",
    stage: "inspection",
    help: "Of a bend: by how much the pipe turns.",
    range: [0, 180],
  },
  {
    key: "size_after",
    heading: "Size after",
    measure: "diameter",
    stage: "inspection",
    help: "Of a size change: inside diameter beyond it.",
    range: [25, 1000],
  },
  {
    key: "note",
    heading: "Note",
    measure: "text",
    stage: "inspection",
    help: "The operator's remark.",
  },
] as const satisfies readonly Column[];

export type LateralKey = (typeof lateralColumns)[number]["key"];
export type InspectionKey = (typeof inspectionColumns)[number]["key"];
export type ObservationKey = (typeof observationColumns)[number]["key"];
