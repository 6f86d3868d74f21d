import type { Bounds } from "../engineering/quick-rating.ts";
import { isoDate } from "../quantity/calendar.ts";
import { type NumberStyle, showNumber, showQuantity } from "../quantity/show-quantity.ts";
import type { Condition } from "./condition.ts";
import { type ExplainedLine, line } from "./explained-line.ts";
import type { RatedSurvey } from "./found-surveys.ts";
import type { Observation } from "./lateral.ts";
import type { DefectCount, ModeRating } from "./survey-ratings.ts";

const RATING_NOTE =
  "Σ grade × occurrences over the surveyed length; a continuous defect counts once per 5 ft (1.5 m), from memory, unverified. " +
  "A quick rating gives bounds: it hides grades below its second, and letters are ranges";

/** What the leading survey rates, where that comes from, and what was seen in it. */
export function explainRatings(
  { ratings, pipeRating, defects }: Condition,
  style: NumberStyle,
): ExplainedLine[] {
  if (ratings.length === 0) return [];
  return [
    ...ratings.flatMap((rated) => [
      ...quickLine("structural", rated, rated.structural),
      ...quickLine("O&M", rated, rated.om),
    ]),
    ...(pipeRating === null
      ? []
      : [
          line("structural pipe rating", boundsText(pipeRating.rating, style), "measured", RATING_NOTE),
          ...(pipeRating.index === null
            ? []
            : [
                line(
                  "structural rating index",
                  boundsText(pipeRating.index, style),
                  "measured",
                  "the mean grade: pipe rating ÷ occurrences",
                ),
              ]),
        ]),
    ...(defects === null ? [] : [defectsLine(defects, style)]),
    ...ratings.flatMap(({ survey }) =>
      (survey.observations ?? [])
        .filter(({ mode }) => mode !== "inventory")
        .map((seen) => observationLine(seen, style)),
    ),
  ];
}

function quickLine(what: string, { survey }: RatedSurvey, rating: ModeRating | null): ExplainedLine[] {
  if (rating === null) return [];
  const { stated, computed, agrees, observed } = rating;
  const said = [
    ...(stated === "" ? [] : [`${stated} stated`]),
    ...(computed === null ? [] : [`${computed} from the observations`]),
  ];
  if (said.length === 0) return [];
  const note =
    agrees === false
      ? "they disagree: the wider bounds of both are used"
      : observed !== null && observed.uncertain > 0
        ? `${observed.uncertain} observation(s) of unknown kind or grade: only bounds follow`
        : agrees === true
          ? "they agree"
          : null;
  return [line(`${what} quick, ${isoDate(survey.on)}`, said.join(", "), "measured", note)];
}

function defectsLine({ least, most, span, by }: DefectCount, style: NumberStyle): ExplainedLine {
  const number =
    least === most ? `${least}` : Number.isFinite(most) ? `${least} to ${most}` : `${least} or more`;
  const over =
    span === null || most === 0
      ? ""
      : span === 0
        ? ", at one point"
        : `, over ${showQuantity(span, "length", style)}`;
  return line(
    "structural defects counted",
    `${number}${over}`,
    "measured",
    `of grade 3 or worse, or of the worst grade where none is so bad; by ${by}`,
  );
}

function observationLine({ from, to, kind, mode, grade, clock, note }: Observation, style: NumberStyle) {
  const place =
    from === null
      ? "seen, place not given"
      : to === null || to === from
        ? `seen at ${showQuantity(from, "length", style)}`
        : `seen ${showNumber(from, "length", style)} to ${showQuantity(to, "length", style)}`;
  const value = [
    kind === "" ? "not said what" : kind,
    grade === null ? "not graded" : `grade ${grade}`,
    ...(clock === "" ? [] : [`clock ${clock}`]),
    ...(mode === "unknown" ? ["kind not in the code map"] : []),
  ];
  return line(place, value.join(", "), "measured", note === "" ? null : note);
}

function boundsText({ least, most }: Bounds, style: NumberStyle): string {
  const show = (value: number) => showNumber(value, "points", style);
  if (least === most) return show(least);
  return Number.isFinite(most) ? `${show(least)} to ${show(most)}` : `${show(least)} or more`;
}
