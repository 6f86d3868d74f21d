/**
 * Crews of a season by what they come for. One crew does a whole visit, preparatory works of the offer included: an assumption of this
 * program, no published source.
 */
export const crewTypes = ["preparation", "lining", "dig"] as const;
export type CrewType = (typeof crewTypes)[number];

const crews: Readonly<Record<string, CrewType>> = {
  "inspect first": "preparation",
  "leave and re-inspect": "preparation",
  "clean and cut roots": "preparation",
  "joint grouting": "preparation",
  "clean and grout": "preparation",
  "sectional liner": "lining",
  "full-length liner": "lining",
  "connection liner": "lining",
  "one-piece liner": "lining",
  "sectional and connection liner": "lining",
  "full-length and connection liner": "lining",
  "pipe bursting": "dig",
  "open-cut replacement": "dig",
};

/** @throws RangeError for a treatment that no crew is named for */
export function crewFor(treatment: string): CrewType {
  const crew = crews[treatment];
  if (crew === undefined) throw new RangeError(`crewFor: no crew for ${JSON.stringify(treatment)}`);
  return crew;
}
