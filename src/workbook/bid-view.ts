import type { CrossBoreState, HostMaterial, Surface } from "../columns/lateral-columns.ts";
import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import type { Metres, Millimetres } from "../quantity/si.ts";
import type { ProgramHead } from "../reference/basis.ts";
import { type Caution, cautionsFor } from "../reference/cautions.ts";
import type { Totals } from "../season/totals.ts";
import { numberAt, type Table, textAt } from "../sheet/table.ts";
import {
  assumptionRows,
  type CriterionKey,
  criteriaRows,
  paymentRows,
  placementRows,
  surfaceWheelRows,
} from "./basis-rows.ts";
import { type ScheduleLine, scheduleLines } from "./bid-schedule.ts";
import { type BookContents, districtName, districtNumbers } from "./book-contents.ts";
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
  readonly laterals: readonly BidLateral[];
  readonly quantities: readonly BidQuantity[];
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
  const lineByKey = new Map(lines.map((line) => [line.key, line]));
  const numbers = districtNumbers(contents);
  const paid = paidRows(program.laterals, program.lines);
  return {
    head: { name, asOf, units, currency },
    lines,
    laterals: paid.map(({ row, entries }) => {
      const { lateral, choice, chosen } = contents.recordAt(row);
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
        treatment: choice.treatment,
        lines: entries.map((entry) => found(lineByKey, entry.key)),
        specifiedMinimumWall: chosen.liner === null ? null : (basis.criteria.minimumWall as Millimetres),
        crossBore: lateral.crossBore?.value ?? null,
        cleanout: lateral.cleanout?.value ?? null,
      };
    }),
    quantities: paid.flatMap(({ row, entries }) =>
      entries.map(({ key, hundredths }) => ({
        lateral: textAt(program.laterals, "lateral", row),
        district: districtName(textAt(program.laterals, "district", row)),
        districtNumber: found(numbers, textAt(program.laterals, "district", row)),
        line: found(lineByKey, key),
        hundredths,
      })),
    ),
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

interface PaidRow {
  readonly row: number;
  readonly entries: readonly { readonly key: string; readonly hundredths: number }[];
}

/** Rows of laterals with bid lines, by district and then by id, both by code points. */
function paidRows(laterals: Table, lines: Table): readonly PaidRow[] {
  const entries = new Map<number, { key: string; hundredths: number }[]>();
  for (let at = 0; at < lines.rows; at++) {
    const row = numberAt(lines, "lateral_row", at);
    const entry = { key: textAt(lines, "line", at), hundredths: numberAt(lines, "hundredths", at) };
    const known = entries.get(row);
    if (known === undefined) entries.set(row, [entry]);
    else known.push(entry);
  }
  return [...entries]
    .map(([row, list]) => ({
      row,
      entries: list,
      district: textAt(laterals, "district", row),
      id: textAt(laterals, "lateral", row),
    }))
    .sort((a, b) => byCodePoints(a.district, b.district) || byCodePoints(a.id, b.id));
}

const byCodePoints = (a: string, b: string): number => (a < b ? -1 : a === b ? 0 : 1);

function found<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key): Value {
  const value = map.get(key);
  if (value === undefined) throw new RangeError(`bid view: nothing known of ${JSON.stringify(key)}`);
  return value;
}
