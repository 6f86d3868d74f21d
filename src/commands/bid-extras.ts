import { biddingRules } from "../program/bidding-settings.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { BidExtras } from "../workbook/bid-book.ts";
import type { BidView } from "../workbook/bid-view.ts";
import { placesFor } from "./report.ts";

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
    pictures: bidPictures(view, program, placesFor(program, settings)),
  };
}
