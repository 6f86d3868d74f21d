import { numbersIssued } from "../bidding/issued-numbers.ts";
import { bidLayout } from "../program/bid-layout-settings.ts";
import { biddingRules, ownersConditions } from "../program/bidding-settings.ts";
import { readIssueRecords } from "../program/issue-records.ts";
import { readSeasonRun } from "../program/season-runs.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { Problem } from "../quantity/problem.ts";
import { bidPartsOf } from "../season/bid-parts.ts";
import { workToBid } from "../season/bid-work.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { BidExtras } from "../workbook/bid-book.ts";
import type { BidView, DividedBid } from "../workbook/bid-view.ts";
import { placesFor } from "./report.ts";

export type Divided =
  | { readonly ok: true; readonly bid: DividedBid }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * The program's alternates and allowances over what of a plan is bid, under the numbers that were issued.
 *
 * @param whole the plan of all laterals, whose names the settings may use
 */
export async function dividedBid(
  folder: string,
  program: PlannedProgram,
  whole: PlannedProgram,
  settings: Settings,
): Promise<Divided> {
  const layout = bidLayout(settings);
  const seasons = new Map<string, ReadonlySet<string>>();
  for (const name of seasonsNamed(layout)) {
    const reading = await readSeasonRun(folder, name);
    if (!reading.ok) return reading;
    seasons.set(name, new Set(reading.run.chosen.map(({ lateral }) => lateral)));
  }
  const parts = bidPartsOf(workToBid(program), whole, layout.alternates, seasons);
  if (!parts.ok) return parts;
  const issues = await readIssueRecords(folder);
  if (!issues.ok) return issues;
  return { ok: true, bid: { ...layout, parts: parts.parts, issued: numbersIssued(issues.records) } };
}

/** The saved seasons by which alternates are told. */
export const seasonsNamed = ({ alternates }: Pick<DividedBid, "alternates">): readonly string[] =>
  alternates.flatMap(({ takes }) =>
    takes.kind === "season" || takes.kind === "beyond season" ? takes.names : [],
  );

/** The program's instructions to bidders, and the pictures. */
export async function bidExtras(
  view: BidView,
  program: PlannedProgram,
  settings: Settings,
): Promise<BidExtras> {
  // The drawing library takes half a second to load.
  const { bidPictures } = await import("./bid-pictures.ts");
  return {
    rules: biddingRules(settings),
    conditions: ownersConditions(settings),
    pictures: bidPictures(view, program, placesFor(program, settings)),
  };
}
