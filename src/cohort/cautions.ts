/** A way in which the fits of a city's own inspections can mislead, as data for screen, report and workbook. */
export interface CohortCaution {
  readonly code:
    | "complaint-driven inspection"
    | "renewed pipes"
    | "misread surveys"
    | "age and era"
    | "one survey each";
  /** Which way the share of bad laterals is pulled. */
  readonly pulls: "up" | "down" | "together" | "either way";
  readonly says: string;
  /** What can be done about it in this program. */
  readonly remedy: string;
}

/** Always shown beside a fit: no check of the data can rule them out. */
export const cohortCautions: readonly CohortCaution[] = [
  {
    code: "complaint-driven inspection",
    pulls: "up",
    says: "Laterals are often inspected because somebody complained. Those found are worse than those nobody looked into, so the fitted share of bad laterals is too high for the rest.",
    remedy: "Mark why each survey was made, and fit the surveys made area by area alone.",
  },
  {
    code: "renewed pipes",
    pulls: "down",
    says: "The worst of the old laterals are already lined or replaced and stand in the file as new, so the old ones left look better than their generation was.",
    remedy: "Keep the old pipe's year and its last grade when a lateral is renewed.",
  },
  {
    code: "misread surveys",
    pulls: "together",
    says: "Published repeat surveys of sewers found 80 % of the poor pipes, missed 20 %, and called 15 % of the others poor. That flattens the curve: the young look worse and the old better than they are.",
    remedy: "Have part of the surveys graded a second time, and put the city's own figures in the table.",
  },
  {
    code: "age and era",
    pulls: "either way",
    says: "Within one era of one material the ages hardly differ, so a poor batch of pipe and a short life look the same.",
    remedy:
      "Read the interval of the shape. Where it reaches from below 1 to far above it, the data cannot tell.",
  },
  {
    code: "one survey each",
    pulls: "either way",
    says: "A survey says only that the lateral was bad by that age, or not yet. When it became so is not seen, so it takes many surveys to fix a curve.",
    remedy: "Repeat surveys of the same laterals are worth more than first ones of others.",
  },
];
