import { columnOf } from "../columns/dictionary.ts";
import { showCount } from "../quantity/show-quantity.ts";
import type { BidLateral, BidView } from "./bid-view.ts";
import { WHOLE } from "./number-format.ts";
import type { Row, SheetModel } from "./sheet-model.ts";

/** What a bidder needs to know that the city does not: asked of each lateral of the schedule. */
const gaps = [
  {
    what: columnOf("cross_bore").heading,
    is: ({ crossBore }: BidLateral) => crossBore === null,
    means: "Not known to be clear of another utility: treat it as not cleared.",
  },
  {
    what: columnOf("cleanout").heading,
    is: ({ cleanout }: BidLateral) => cleanout === null,
    means: "Not known whether there is one: treat the lateral as without a cleanout.",
  },
  {
    what: columnOf("host_diameter").heading,
    is: ({ hostDiameter }: BidLateral) => hostDiameter === null,
    means: "Measure it before ordering material.",
  },
  {
    what: columnOf("host_length").heading,
    is: ({ hostLength }: BidLateral) => hostLength === null,
    means:
      "Measure it before ordering material; its quantities rest on an assumption or on inspection first.",
  },
  {
    what: columnOf("host_material").heading,
    is: ({ hostMaterial }: BidLateral) => hostMaterial === null,
    means: "See it by camera before the method is fixed.",
  },
  {
    what: `${columnOf("cover_main").heading} or ${columnOf("cover_house").heading.toLowerCase()}`,
    is: ({ coverAtMain, coverAtHouse }: BidLateral) => coverAtMain === null || coverAtHouse === null,
    means: "The sheet Basis says what is assumed; find out before any excavation.",
  },
  {
    what: columnOf("surface").heading,
    is: ({ surface }: BidLateral) => surface === null,
    means: "The sheet Basis says what is assumed; look at the place before pricing restoration.",
  },
] as const;

/** What is not known of the laterals with paid work, counted, with what it means for a bid. */
export function dataGapsSheet({ laterals }: BidView): SheetModel {
  const counts = gaps.map(() => 0);
  for (const lateral of laterals) for (const [i, { is }] of gaps.entries()) if (is(lateral)) counts[i]! += 1;
  return {
    name: "Data gaps",
    title: "Problems and data gaps",
    notes: [
      `Of ${showCount(laterals.length)} lateral(s) with paid work. The lateral schedule shows which: the cell is empty, or says not known.`,
    ],
    columns: [
      { heading: "What is not known", width: 36, wrap: true },
      { heading: "Laterals", width: 10, format: WHOLE },
      { heading: "What it means", width: 80, wrap: true },
    ],
    rows: gaps.map(({ what, means }, i): Row => [what, counts[i]!, means]),
    frozenColumns: 0,
    pagesWide: 1,
    locked: true,
  };
}
