import type { ExplainedStage } from "../plan/explain.ts";
import { explainConnection } from "../plan/explain-liner.ts";
import { explainEffluent } from "../plan/explain-walls.ts";
import { type ExplainedLine, line } from "../plan/explained-line.ts";
import { hasPartInMain } from "../plan/part-in-main.ts";
import { describeReason } from "../plan/reason.ts";
import { SETTINGS_FILE } from "../program/program-files.ts";
import type { NumberStyle } from "../quantity/show-quantity.ts";
import { chosenFor } from "../reference/basis.ts";
import { cautionsFor } from "../reference/cautions.ts";
import { cureComparison } from "../reference/cure-methods.ts";
import { liveLoads } from "../reference/live-loads.ts";
import { soilModuli } from "../reference/soil-moduli.ts";
import { describeSource, isAssumption, type Source } from "../reference/source.ts";
import { inputLines } from "./sheet-inputs.ts";
import { exactly } from "./sheet-lines.ts";
import { GLOCK, HANDBOOK, OLDER_EDITION, ringStages } from "./sheet-rings.ts";
import { workStages } from "./sheet-work.ts";
import { type SizedLiner, treatmentOf } from "./size-liner.ts";

/** The calculation sheet, stage by stage; the text puts numbers of sources in the place of their names. */
export function sizeSheet(sized: SizedLiner): readonly ExplainedStage[] {
  const { basis, use, rings, placed, effluent } = sized;
  const style: NumberStyle = basis.program;
  const chosen = chosenFor(basis.liners, use);
  const notes = noteLines(sized, style);
  const only = {
    ...basis,
    liners: { "full-length": chosen, section: chosen, connection: chosen, "one-piece": chosen },
  };
  return [
    { stage: "Inputs", lines: inputLines(sized, style) },
    { stage: "Effluent", lines: explainEffluent({ effluent }, only, style) },
    ...rings.flatMap((ring) => ringStages(ring, rings.length > 1, basis)),
    ...(notes.length === 0
      ? []
      : [{ stage: rings.length === 0 ? "No wall, because" : "Scope and notes", lines: notes }]),
    ...(placed !== null && hasPartInMain(placed.liner)
      ? [{ stage: "Connection", lines: explainConnection(placed.liner, basis, style) }]
      : []),
    ...workStages(sized, style),
    { stage: "Cautions", lines: cautionLines(use) },
  ];
}

/** What the sheet is about, without a day: the same inputs give the same sheet. */
export function sizeTitle({ use, pipe, basis }: SizedLiner): string {
  const style: NumberStyle = basis.program;
  const host = pipe.lateral.hostDiameter?.value ?? Number.NaN;
  return `Calculation sheet: ${heading(use)} liner in a ${exactly(host, "diameter", style)} host, ${chosenFor(basis.liners, use).system.label}`;
}

const heading = (use: SizedLiner["use"]): string => (use === "section" ? "sectional" : use);

function noteLines({ against, notes }: SizedLiner, style: NumberStyle): ExplainedLine[] {
  return [
    ...against.map((reason) => line("AGAINST", describeReason(reason, style))),
    // The second opinion's own verdict says that one.
    ...notes
      .filter(({ code }) => code !== "enhancement not on the safe side")
      .map((reason) => line("note", describeReason(reason, style))),
  ];
}

/** The first caution whole, the others by name: whole in the JSON, in the plan and in the workbooks. */
function cautionLines(use: SizedLiner["use"]): ExplainedLine[] {
  const cautions = cautionsFor(new Set([treatmentOf[use]]));
  const whole = cautions.filter(({ key }) => WHOLE_CAUTIONS.has(key));
  const others = cautions.filter(({ key }) => !WHOLE_CAUTIONS.has(key)).map(({ key }) => key);
  return [
    ...whole.map(({ key, text }) => line(key, text)),
    line("read before work", `${others.join(", ")}: in full with --json, in the plan and in the workbooks`),
  ];
}

/** What a reader of numbers must see beside them. */
const WHOLE_CAUTIONS: ReadonlySet<string> = new Set(["engineer", "field measure"]);

/**
 * How a source is listed: where it is, and every sentence of its note that lowers its standing; an assumption's own
 * first sentence says what is assumed. An option's is the command line, whatever file the same change would stand in.
 * Notes are whole in `wyeplan why` and on the basis sheet of the planning book.
 */
export function sourceText(source: Source): string {
  const { note, ...place } = source;
  const sentences = (note ?? "").split(/(?<=\.) (?=[A-Z])/);
  if (source.document === SETTINGS_FILE) return `This command line. ${sentences[0]}`;
  const kept = sentences.filter(
    (sentence, i) =>
      (i === 0 && isAssumption(source)) || /memory|unverified|assum|doubtful|published/i.test(sentence),
  );
  return describeSource(kept.length === 0 ? place : { ...place, note: kept.join(" ") });
}

/** Everything that holds a source the sheet may name. */
export const sheetTables = ({ basis, use }: SizedLiner): unknown => ({
  own: [HANDBOOK, OLDER_EDITION, GLOCK],
  basis: { ...basis, liners: basis.liners[use] },
  liveLoads,
  soilModuli,
  cureComparison,
});
