import type { CrossBoreState, HostMaterial, Surface } from "../columns/lateral-columns.ts";
import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Metres, Millimetres } from "../quantity/si.ts";
import type { ProgramHead } from "../reference/basis.ts";
import { type Caution, cautionsFor } from "../reference/cautions.ts";
import type { Totals } from "../season/totals.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import {
  assumptionRows,
  type CriterionKey,
  criteriaRows,
  paymentRows,
  placementRows,
  surfaceWheelRows,
} from "./basis-rows.ts";
import { type ScheduleLine, scheduleLines } from "./bid-schedule.ts";
import { type BookContents, districtName } from "./book-contents.ts";
import { listOfLaterals } from "./lateral-list.ts";
import type { LongList } from "./long-list.ts";
import { type PaidLine, type PaidWork, paidWork } from "./paid-work.ts";
import type { BasisRow } from "./table-rows.ts";

/**
 * The allow-list: all that a bidder may see. The bid book is built from this and from nothing else, so that what is
 * not copied here (prices, cost, risk, rank, crew time, takeoff, the city's other columns, reasons, decisions,
 * problems) has no way into it. Whoever adds a field shows it to every bidder.
 */
export interface BidView {
  readonly head: ProgramHead;
  readonly lines: readonly ScheduleLine[];
  /** Laterals with paid work, by district and id: an order by risk would give the risk away. */
  readonly laterals: LongList<BidLateral>;
  readonly quantities: LongList<BidQuantity>;
  readonly districts: readonly BidDistrict[];
  readonly basis: readonly BasisRow[];
  readonly cautions: readonly Caution[];
}

export interface BidLateral {
  readonly id: string;
  readonly district: string;
  readonly location: string;
  readonly hostDiameter: Millimetres | null;
  readonly hostLength: Metres | null;
  readonly hostMaterial: HostMaterial | null;
  readonly coverAtMain: Metres | null;
  readonly coverAtHouse: Metres | null;
  readonly surface: Surface | null;
  readonly treatment: TreatmentKind;
  readonly lines: readonly ScheduleLine[];
  /** Of the criteria, where a liner is placed; null elsewhere. */
  readonly specifiedMinimumWall: Millimetres | null;
  /** Null is unknown, and unknown is unsafe. */
  readonly crossBore: CrossBoreState | null;
  readonly cleanout: boolean | null;
}

/** One line of one lateral. */
export interface BidQuantity {
  readonly lateral: string;
  readonly district: string;
  readonly districtNumber: number;
  readonly line: ScheduleLine;
  readonly hundredths: number;
}

export interface BidDistrict {
  readonly number: number;
  readonly name: string;
  /** Hundredths by bid line key. */
  readonly bidLines: ReadonlyMap<string, number>;
}

export function readBidView(contents: BookContents): BidView {
  const { program } = contents;
  const { basis, totals } = program;
  const { name, asOf, units, currency } = basis.program;
  const lines = scheduleLines(basis, totals.program.bidLines);
  const work = paidWork(contents, new Map(lines.map((line) => [line.key, line])));
  return {
    head: { name, asOf, units, currency },
    lines,
    laterals: listOfLaterals(contents, work.rows, {
      count: () => 1,
      entries: (row) => [bidLateral(contents, row, work.entries(row))],
    }),
    quantities: listOfLaterals(contents, work.rows, {
      count: (row) => work.entries(row).length,
      entries: (row) => bidQuantities(contents, row, work),
    }),
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
    cautions: cautionsFor(plannedTreatments(totals.program)),
  };
}

function bidLateral(
  { program, lateralAt }: BookContents,
  row: number,
  entries: readonly PaidLine[],
): BidLateral {
  const lateral = lateralAt(row);
  const isLined = !Number.isNaN(numberAt(program.laterals, "liner_length", row));
  return {
    id: lateral.id,
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
    specifiedMinimumWall: isLined ? (program.basis.criteria.minimumWall as Millimetres) : null,
    crossBore: lateral.crossBore?.value ?? null,
    cleanout: lateral.cleanout?.value ?? null,
  };
}

function bidQuantities(
  { program: { laterals } }: BookContents,
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

const plannedTreatments = ({ byTreatment }: Totals): ReadonlySet<TreatmentKind> =>
  new Set(treatmentKinds.filter((kind) => byTreatment[kind] > 0));
