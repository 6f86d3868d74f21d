import { type NumberStyle, showQuantity } from "../quantity/show-quantity.ts";
import type { Metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import { describeSource } from "../reference/source.ts";
import type { AlongPipe } from "./defects-along.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { PlannedLateral } from "./plan-lateral.ts";

/** What a drawing of the pipe along its length shows. */
export interface PipeStrip extends Pick<AlongPipe, "length" | "measuredFrom" | "seen"> {
  readonly sections: readonly { readonly start: Metres; readonly length: Metres }[];
  /** Whether there is one at the house; null when nobody says. */
  readonly cleanout: boolean | null;
  readonly connectionGrade: number | null;
  /** The units of its distances. */
  readonly style: NumberStyle;
}

/** The pipe as it is drawn; null where nothing is known of places along it. */
export function stripOf(
  { along, sections, lateral, condition }: PlannedLateral,
  { units, currency }: NumberStyle,
): PipeStrip | null {
  if (along === null) return null;
  const placed = (sections.pieces ?? []).flatMap(({ start, length }) =>
    start === null ? [] : [{ start, length }],
  );
  const { length, measuredFrom, seen } = along;
  const cleanout = lateral.cleanout?.value ?? null;
  const connectionGrade = condition.connection?.value ?? null;
  return {
    length,
    measuredFrom,
    seen,
    sections: placed,
    cleanout,
    connectionGrade,
    style: { units, currency },
  };
}

/** How the sections were placed; nothing where no places are known. */
export function explainAlong(
  { along, sections, choice }: PlannedLateral,
  { treatments }: Basis,
  style: NumberStyle,
): readonly ExplainedLine[] {
  if (along === null) return [];
  const { sectional } = treatments;
  const pieces = sections.pieces ?? [];
  if (sections.by === "assumed length" || sections.covered.length === 0)
    return [line("sections", "none placed here", null, whyNone(along))];
  if (pieces.length === 0) return [line("sections", "cannot cover what must be covered")];
  const chosen = choice.treatment === "sectional liner";
  return [
    line(
      chosen ? "sections" : "sections, not chosen",
      `${pieces.length}, ${showQuantity(
        pieces.reduce((sum, { length }) => sum + length, 0),
        "length",
        style,
      )} in all`,
      null,
      `the least ${sections.by} that covers ${sections.covered.length} defect(s), each with ${showQuantity(sectional.overlapEachSide, "length", style)} of sound pipe on each side, over all positions. ${describeSource(sectional.source)}`,
    ),
    line("before ordering", "confirm every distance in the field"),
  ];
}

const whyNone = ({ whole }: AlongPipe): string =>
  whole
    ? "no defect asks for a section, or none can be designed for this host"
    : "the list of observations is not complete, contradicts the stated rating, or names places outside the pipe";
