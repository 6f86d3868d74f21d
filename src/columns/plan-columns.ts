import type { Column } from "./column.ts";

/** What may be done to a lateral. Later versions add to the end; the order is the order of listing, not of merit. */
export const treatmentKinds = [
  "inspect first",
  "leave and re-inspect",
  "clean and cut roots",
  "sectional liner",
  "full-length liner",
  "connection liner",
  "open-cut replacement",
] as const;
export type TreatmentKind = (typeof treatmentKinds)[number];

/** Crews that come on days of their own, in the order they come to a lateral. */
export const crewKinds = ["preparation", "lining", "dig", "restoration"] as const;
export type CrewKind = (typeof crewKinds)[number];

export const conditionStates = ["surveyed", "surveyed in part", "not inspected"] as const;
export type ConditionState = (typeof conditionStates)[number];

/** The checks of ASTM F1216 Appendix X1, and what may overrule them. */
export const wallGovernors = [
  "buckling (X1.1)",
  "out-of-round bending (X1.2)",
  "soil and traffic (X1.3)",
  "stiffness (X1.4)",
  "greatest DR",
] as const;
export type WallGovernor = (typeof wallGovernors)[number];

/** What decided the wall ordered. */
export const wallDeciders = ["calculated", "specified minimum"] as const;
export type WallDecider = (typeof wallDeciders)[number];

/** What the plan works out for each lateral: filled by the stage each column names. */
export const planColumns = [
  {
    key: "condition_state",
    heading: "Survey",
    measure: "code",
    words: conditionStates,
    stage: "condition",
    help: "Whether the lateral was surveyed whole, in part, or never.",
  },
  {
    key: "structural_grade",
    heading: "Structural",
    measure: "grade",
    stage: "condition",
    help: "Structural grade the plan uses: the latest complete survey's, or a worse one found since.",
    decidable: true,
    shownAtFirst: true,
  },
  {
    key: "om_grade",
    heading: "O&M",
    measure: "grade",
    stage: "condition",
    help: "Operation and maintenance grade the plan uses.",
    decidable: true,
    shownAtFirst: true,
  },
  {
    key: "inspection_age",
    heading: "Survey age",
    measure: "age",
    stage: "condition",
    help: "Time from the leading survey to the program's as-of date.",
  },
  {
    key: "reinspect",
    heading: "Re-inspect",
    measure: "flag",
    stage: "condition",
    help: "Whether a newer incomplete survey or its age asks for another inspection.",
  },
  {
    key: "pipe_rating",
    heading: "Pipe rating",
    measure: "points",
    stage: "condition",
    help: "Structural pipe rating of the leading survey: grade × occurrences, summed. Missing where it is only bounded; not per length.",
  },
  {
    key: "pipe_rating_index",
    heading: "Rating index",
    measure: "points",
    stage: "condition",
    help: "Mean grade of the leading survey's structural defects. Missing where it is only bounded.",
  },
  {
    key: "structural_defects_least",
    heading: "Defects, least",
    measure: "count",
    stage: "condition",
    help: "Structural defects in the leading survey, of grade 3 or worse, or of the worst grade where none is so bad: at least so many.",
  },
  {
    key: "structural_defects_most",
    heading: "Defects, most",
    measure: "count",
    stage: "condition",
    help: "The same: at most so many. Missing where a quick rating hides how many.",
  },
  {
    key: "likelihood",
    heading: "Likelihood",
    measure: "points",
    stage: "risk",
    help: "Likelihood of failure, 1 to 5. Relative, not a probability.",
  },
  {
    key: "consequence",
    heading: "Consequence",
    measure: "points",
    stage: "risk",
    help: "Consequence of a failure, 1 to 5.",
  },
  {
    key: "risk",
    heading: "Risk",
    measure: "points",
    stage: "risk",
    help: "Likelihood × consequence, 1 to 25. It orders laterals; sums of it mean nothing.",
    shownAtFirst: true,
  },
  {
    key: "p_structural",
    heading: "P structural",
    measure: "percent",
    stage: "risk",
    help: "Chance of structural failure in the coming year, from the grade and the age of its survey, or from the cohort of a lateral nobody graded.",
  },
  {
    key: "p_blockage",
    heading: "P blockage",
    measure: "percent",
    stage: "risk",
    help: "Chance of at least one blockage in the coming year, from the O&M grade and the lateral's own backups. Backups move nothing else.",
  },
  {
    key: "p_infiltration",
    heading: "P leaking",
    measure: "percent",
    stage: "risk",
    help: "Chance that the lateral leaks in the season of high groundwater.",
  },
  {
    key: "expected_loss",
    heading: "Expected loss",
    measure: "money",
    stage: "risk",
    help: "Expected cost of failures in the coming year: chance times cost, summed over structural failure, blockage and infiltration.",
  },
  {
    key: "present_loss",
    heading: "Present loss",
    measure: "money",
    stage: "risk",
    help: "Present worth of those costs over the horizon of the design life, if nothing is done.",
  },
  {
    key: "infiltration",
    heading: "Infiltration",
    measure: "flow",
    stage: "risk",
    help: "Expected clear water in the season of high groundwater: a seasonal mean, not a peak. Missing without diameter or length.",
  },
  {
    key: "treatment",
    heading: "Treatment",
    measure: "code",
    words: treatmentKinds,
    stage: "treatment",
    help: "What the plan chooses to do.",
    decidable: true,
    shownAtFirst: true,
  },
  {
    key: "wall_calculated",
    heading: "Wall calc.",
    measure: "wall",
    stage: "liner",
    help: "Wall that the design equations ask for.",
  },
  {
    key: "wall_specified",
    heading: "Wall spec.",
    measure: "wall",
    stage: "liner",
    help: "Least wall the city's specification allows.",
  },
  {
    key: "wall",
    heading: "Wall",
    measure: "wall",
    stage: "liner",
    help: "Stocked wall that satisfies both.",
    shownAtFirst: true,
  },
  {
    key: "wall_check",
    heading: "Design check",
    measure: "code",
    words: wallGovernors,
    stage: "liner",
    help: "The design check that asks for the thickest wall.",
  },
  {
    key: "wall_decider",
    heading: "Wall from",
    measure: "code",
    words: wallDeciders,
    stage: "liner",
    help: "Whether the calculation or the specified minimum decides the wall.",
  },
  {
    key: "wall_second_opinion",
    heading: "Glock wall",
    measure: "wall",
    stage: "liner",
    help: "Wall against groundwater by Glock's close-fit buckling: an unpublished-check cross-check, not the design. Missing without groundwater over the pipe.",
  },
  {
    key: "dr",
    heading: "DR",
    measure: "factor",
    stage: "liner",
    help: "Dimension ratio: host diameter ÷ stocked wall.",
  },
  {
    key: "liner_length",
    heading: "Liner",
    measure: "length",
    stage: "liner",
    help: "Length of liner installed in the host, without run-in and run-out.",
    shownAtFirst: true,
    total: "sum",
  },
  {
    key: "resin",
    heading: "Resin",
    measure: "volume",
    stage: "resin",
    help: "Mixed resin to wet out the liner, with run-in, run-out and excess.",
    shownAtFirst: true,
  },
  {
    key: "cure_minutes",
    heading: "Cure",
    measure: "duration",
    stage: "quantities",
    help: "Time to cure the liner and cool it down, to plan a crew by; the resin supplier's schedule governs.",
  },
  {
    key: "pull",
    heading: "Pull",
    measure: "force",
    stage: "quantities",
    help: "Greatest pull at the winch while the liner is placed. Missing where nothing is pulled through the lateral.",
  },
  {
    key: "capacity_ratio",
    heading: "Capacity",
    measure: "percent",
    stage: "quantities",
    help: "Full-pipe capacity after lining over before, counting the smoother wall, at its less favourable end. See the one on equal n beside it.",
  },
  {
    key: "capacity_equal_n",
    heading: "Capacity, equal n",
    measure: "percent",
    stage: "quantities",
    help: "Full-pipe capacity after lining over before with the same roughness: what the lost bore alone does.",
  },
  {
    key: "crew_minutes",
    heading: "Crew time",
    measure: "duration",
    stage: "crew time",
    help: "Time crews are on the lateral: the critical path of each crew's visit, one visit after another.",
    shownAtFirst: true,
  },
  {
    key: "cost",
    heading: "Cost",
    measure: "money",
    stage: "cost",
    help: "The treatment's bid items at the program's unit prices. Missing when an item has no price.",
    shownAtFirst: true,
  },
  {
    key: "city_cost",
    heading: "City pays",
    measure: "money",
    stage: "cost",
    help: "The city's part of the cost: its own parts of the lateral, and its share of the others. Missing when owners, lengths or the share are not stated.",
  },
  {
    key: "owner_cost",
    heading: "Owner pays",
    measure: "money",
    stage: "cost",
    help: "The rest of the cost: what the owners of the other parts pay. City and owner add up to the cost to the cent.",
  },
  {
    key: "may_be_scheduled",
    heading: "May be scheduled",
    measure: "flag",
    stage: "cost",
    help: "Whether the work may be put on a calendar: work on a private part needs a signed permission that still holds. Missing when the owner is not stated.",
  },
  {
    key: "rank",
    heading: "Rank",
    measure: "count",
    stage: "season",
    help: "Place in the order of risk, 1 first.",
    shownAtFirst: true,
    total: "none",
  },
  {
    key: "stays_selected",
    heading: "Stays selected",
    measure: "percent",
    stage: "season",
    help: "Share of possible worlds in which the lateral stays above the cut of the ranking. Worked out by wyeplan risk and for the planning book; missing elsewhere.",
  },
] as const satisfies readonly Column[];

export type PlanKey = (typeof planColumns)[number]["key"];
