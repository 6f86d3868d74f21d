import type { Part as BidPart } from "../bidding/bid.ts";
import { type IssuedNumbers, NOTHING_ISSUED } from "../bidding/issued-numbers.ts";
import type { CrossBoreState, HostMaterial, Surface } from "../columns/lateral-columns.ts";
import type { TreatmentKind } from "../columns/plan-columns.ts";
import { districtName } from "../quantity/district-name.ts";
import { type Metres, type Millimetres, millimetres } from "../quantity/si.ts";
import type { ProgramHead } from "../reference/basis.ts";
import { BASE_ONLY, type BidLayout } from "../reference/bid-layout.ts";
import type { Caution } from "../reference/cautions.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import { type BidAllowance, numberedAllowances } from "./allowances.ts";
import {
  assumptionRows,
  type CriterionKey,
  criteriaRows,
  paymentRows,
  placementRows,
  surfaceWheelRows,
} from "./basis-rows.ts";
import { type BidConditions, readBidConditions } from "./bid-conditions.ts";
import { itemNumber, type ScheduleLine, scheduleLines, scheduleSheetName } from "./bid-schedule.ts";
import type { BookContents } from "./book-contents.ts";
import { listOfLaterals } from "./lateral-list.ts";
import type { LongList } from "./long-list.ts";
import { byCodePoints, type PaidLine, type PaidWork, paidWork } from "./paid-work.ts";
import { plannedCautions } from "./planned-cautions.ts";
import type { BasisRow } from "./table-rows.ts";

/**
 * The allow-list: all that a bidder may see. The bid book is built from this and from nothing else, so that what is
 * not copied here (prices, cost, risk, rank, crew time, takeoff, the city's other columns, reasons, decisions,
 * problems) has no way into it. Whoever adds a field shows it to every bidder.
 */
export interface BidView {
  readonly head: ProgramHead;
  /** The base bid's, then each alternate's in stated order. */
  readonly lines: readonly BidScheduleLine[];
  readonly alternates: readonly BidAlternate[];
  /** Fixed sums of the owner that stand in the base bid. */
  readonly allowances: readonly BidAllowance[];
  /** Lines of earlier issues that went: their numbers stay unused. */
  readonly deleted: readonly DeletedLine[];
  /** Laterals with paid work, by district and id: an order by risk would give the risk away. */
  readonly laterals: LongList<BidLateral>;
  readonly quantities: LongList<BidQuantity>;
  /** Laterals that were cleaned already: no cleaning or root cutting is asked for there. */
  readonly cleaned: readonly string[];
  readonly districts: readonly BidDistrict[];
  readonly basis: readonly BasisRow[];
  readonly cautions: readonly Caution[];
  /** When and how the work is done. */
  readonly conditions: BidConditions;
}

type BidContents = Pick<BookContents, "program" | "lateralAt" | "rowsASheet">;

/** A line of one part of the bid. The same item has the same number in every part. */
export interface BidScheduleLine extends ScheduleLine {
  readonly part: BidPart;
}

export interface BidAlternate {
  readonly number: number;
  readonly name: string;
}

/** A line that stood in a part of the bid. */
export interface DeletedLine {
  readonly part: BidPart;
  /** As it was printed. */
  readonly item: string;
  /** The addendum that took it out, the one to be issued among them. */
  readonly addendum: number;
}

export interface BidLateral {
  readonly id: string;
  readonly part: BidPart;
  readonly district: string;
  readonly location: string;
  readonly hostDiameter: Millimetres | null;
  readonly hostLength: Metres | null;
  readonly hostMaterial: HostMaterial | null;
  readonly coverAtMain: Metres | null;
  readonly coverAtHouse: Metres | null;
  readonly surface: Surface | null;
  readonly treatment: TreatmentKind;
  readonly lines: readonly BidScheduleLine[];
  /** Of the criteria, where a liner is placed; null elsewhere. */
  readonly specifiedMinimumWall: Millimetres | null;
  /** Of the plan, from stock: in the lateral, and of a liner with a part in the main there. */
  readonly wall: Millimetres | null;
  readonly wallInMain: Millimetres | null;
  /** Null is unknown, and unknown is unsafe. */
  readonly crossBore: CrossBoreState | null;
  readonly cleanout: boolean | null;
}

/** One line of one lateral. */
export interface BidQuantity {
  readonly lateral: string;
  readonly district: string;
  readonly districtNumber: number;
  readonly line: BidScheduleLine;
  readonly hundredths: number;
}

export interface BidDistrict {
  readonly number: number;
  readonly name: string;
  /** Hundredths by bid line key. */
  readonly bidLines: ReadonlyMap<string, number>;
}

/** How the bid is divided, the part of each lateral by its row in what is bid (0 is the base bid), and the numbers that bidders have. */
export interface DividedBid extends BidLayout {
  readonly parts: Uint8Array;
  readonly issued: IssuedNumbers;
}

/** @param divided a base bid alone unless said; its parts are by the rows of what is bid */
export function readBidView(of: BookContents, divided: DividedBid | null = null): BidView {
  const contents: BidContents = { ...of.bid, rowsASheet: of.rowsASheet };
  const { program } = contents;
  const { basis, totals } = program;
  const { name, asOf, units, currency, print } = basis.program;
  const { alternates, allowances } = divided ?? BASE_ONLY;
  const issued = divided?.issued ?? NOTHING_ISSUED;
  const parts: readonly BidPart[] = ["base", ...alternates.map((_, i) => i + 1)];
  const partOf = (row: number): BidPart => parts[divided?.parts[row] ?? 0]!;
  const lines = linesOfParts(program, parts, partOf, issued);
  const numbered = numberedAllowances(allowances, issued);
  const work = paidWork(contents, lines, partOf);
  return {
    head: { name, asOf, units, currency, print },
    lines,
    alternates: alternates.map((alternate, i) => ({ number: i + 1, name: alternate.name })),
    allowances: numbered,
    deleted: deletedLines(
      parts,
      [...lines, ...numbered.map(({ number }) => ({ part: "base" as const, number }))],
      issued,
    ),
    laterals: listOfLaterals(contents, work.rows, {
      count: () => 1,
      entries: (row) => [bidLateral(contents, row, partOf(row), work.entries(row))],
    }),
    quantities: listOfLaterals(contents, work.rows, {
      count: (row) => work.entries(row).length,
      entries: (row) => bidQuantities(contents, row, work),
    }),
    cleaned: of.worksOver.map(({ lateral }) => lateral).sort(byCodePoints),
    districts: totals.districts.map(({ district, bidLines }, i) => ({
      number: i + 1,
      name: districtName(district),
      bidLines,
    })),
    basis: [
      ...assumptionRows(basis, ["cover", "water_table_depth", "ovality", "surface"]),
      ...criteriaRows(basis, criteriaForBidders),
      ...surfaceWheelRows(basis),
      ...placementRows(basis),
      ...paymentRows(basis),
    ],
    cautions: plannedCautions(contents.program),
    conditions: readBidConditions(of, work.rows),
  };
}

/**
 * The lines of every part with its quantities. Lump sums: all of them in the base bid; an alternate adds traffic control
 * for its own work, while mobilization is asked for once.
 */
function linesOfParts(
  { basis, totals, lines }: BookContents["program"],
  parts: readonly BidPart[],
  partOf: (row: number) => BidPart,
  issued: IssuedNumbers,
): readonly BidScheduleLine[] {
  const all = scheduleLines(basis, totals.program.bidLines, issued);
  const quantities = new Map(parts.map((part) => [part, new Map<string, number>()]));
  for (let at = 0; at < lines.rows; at++) {
    const own = quantities.get(partOf(numberAt(lines, "lateral_row", at)))!;
    const key = textAt(lines, "line", at);
    own.set(key, (own.get(key) ?? 0) + numberAt(lines, "hundredths", at));
  }
  return parts.flatMap((part) =>
    all.flatMap((line): BidScheduleLine[] => {
      if (line.item.unit === "lump sum")
        return part === "base" || line.item.key === "traffic control" ? [{ ...line, part }] : [];
      const hundredths = quantities.get(part)!.get(line.key);
      return hundredths === undefined ? [] : [{ ...line, part, hundredths }];
    }),
  );
}

/** Numbers of earlier issues that stand in a part no more, by their place in it. */
function deletedLines(
  parts: readonly BidPart[],
  lines: readonly Pick<BidScheduleLine, "part" | "number">[],
  { lastIssue }: IssuedNumbers,
): readonly DeletedLine[] {
  return parts.flatMap((part) => {
    const there = new Set(lines.filter((line) => line.part === part).map(({ number }) => itemNumber(number)));
    return [...(lastIssue.get(scheduleSheetName(part)) ?? [])]
      .filter(([item]) => !there.has(item))
      .map(([item, addendum]) => ({ part, item, addendum }))
      .sort((a, b) => Number(a.item) - Number(b.item));
  });
}

function bidLateral(
  { program, lateralAt }: BidContents,
  row: number,
  part: BidPart,
  entries: readonly PaidLine[],
): BidLateral {
  const lateral = lateralAt(row);
  const wallAt = (key: "wall" | "wall_main"): Millimetres | null => {
    const wall = numberAt(program.laterals, key, row);
    return Number.isNaN(wall) ? null : millimetres(wall);
  };
  const wall = wallAt("wall");
  return {
    id: lateral.id,
    part,
    district: districtName(lateral.district),
    location: lateral.location,
    hostDiameter: lateral.hostDiameter?.value ?? null,
    hostLength: lateral.hostLength?.value ?? null,
    hostMaterial: lateral.hostMaterial?.value ?? null,
    coverAtMain: lateral.coverAtMain?.value ?? null,
    coverAtHouse: lateral.coverAtHouse?.value ?? null,
    surface: lateral.surface?.value ?? null,
    treatment: textAt(program.laterals, "treatment", row) as TreatmentKind,
    lines: entries.map(({ line }) => line),
    specifiedMinimumWall: wall === null ? null : millimetres(program.basis.criteria.minimumWall),
    wall,
    wallInMain: wallAt("wall_main"),
    crossBore: lateral.crossBore?.value ?? null,
    cleanout: lateral.cleanout?.value ?? null,
  };
}

function bidQuantities(
  { program: { laterals } }: BidContents,
  row: number,
  { entries, districts }: PaidWork,
): readonly BidQuantity[] {
  const lateral = textAt(laterals, "lateral", row);
  const district = districtName(textAt(laterals, "district", row));
  const districtNumber = districts[row]!;
  return entries(row).map((entry) => ({ lateral, district, districtNumber, ...entry }));
}

/** The criteria of the specification that a bidder designs by. */
const criteriaForBidders: readonly CriterionKey[] = [
  "deterioration",
  "deteriorationBy",
  "edition",
  "strengthBasis",
  "safetyFactor",
  "enhancement",
  "poissonsRatio",
  "soilModulus",
  "soilUnitWeight",
  "minimumWall",
  "wheel",
  "liveLoadMethod",
  "impactTable",
];
