import * as z from "zod";
import type { CostBook } from "../bidding/cost-book.ts";
import type { Problem } from "../quantity/problem.ts";
import { bidItemKeys } from "../reference/bid-items.ts";
import { scanJson } from "./json-places.ts";
import { type Fault, faultAt, faultProblem, faultsOf } from "./settings-faults.ts";
import { part, partOf, text, words } from "./written-values.ts";

const CURRENCY = 'the three capital letters of a currency, such as "USD"';
const UNITS =
  '"us" for costs and minutes per foot and square foot, "si" for those per metre and square metre';
const amount = z.number("an amount such as 62.50").min(0, "an amount of nothing or more");
const count = z.number("a number of people or machines").min(0, "nothing or more");
const name = text("a name");
const MINUTES = 'minutes of the crew for one unit, or "plan" for the crew time of the program\'s plan';

const COSTS =
  "what a unit costs: minutes of a crew, materials, subcontract or per_job; an amount of 0 is one";
/** Eight where 8 % is meant would be eight times the cost. */
const SHARE = 'a fraction below 1 such as 0.08, or text such as "8 %"';

const unitCosts = {
  crew: name.optional(),
  minutes: z.union([z.number(MINUTES).min(0, MINUTES), words(["plan"])], MINUTES).optional(),
  materials: z.record(z.string(), count).optional(),
  subcontract: amount.optional(),
  per_job: amount.optional(),
};

/** A contractor's cost book as people write it, strict: a key it does not know is refused. */
const costBookSchema = z.strictObject({
  schema: z.literal(1, "1, the only form of a cost book this version knows"),
  source: text("whose costs these are, with their date"),
  currency: z.string(CURRENCY).regex(/^[A-Z]{3}$/, CURRENCY),
  units: z.enum(["us", "si"], UNITS),
  roles: z.record(z.string(), amount),
  equipment: z.record(z.string(), amount),
  crews: z.record(
    z.string(),
    z.strictObject({
      people: z.record(z.string(), count),
      equipment: z.record(z.string(), count).optional(),
    }),
  ),
  materials: z.record(z.string(), z.strictObject({ unit: text("its unit"), price: amount, waste: part })),
  items: z.partialRecord(
    z.enum(bidItemKeys),
    z.strictObject({ ...unitCosts, sizes: z.record(z.string(), z.strictObject(unitCosts)).optional() }),
  ),
  on_top: z.strictObject({ contingency: part, overhead: part, profit: part, bonds: part, insurance: part }),
});

type Written = z.infer<typeof costBookSchema>;

export type CostBookReading =
  | {
      readonly ok: true;
      readonly book: CostBook;
      /** The line of the file on which a key stands. */
      readonly lineOf: (key: "currency" | "units") => number;
    }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Reads a cost book from its bytes, or says everything that is wrong with it, with its lines. */
export function readCostBook(file: string, bytes: Uint8Array): CostBookReading {
  const refused = (row: number | null, found: string, expected: string, remedy: string): CostBookReading => ({
    ok: false,
    problems: [{ severity: "rejected", file, row, column: null, found, expected, remedy }],
  });
  let json: string;
  try {
    json = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return refused(null, "bytes that are no UTF-8 text", "text in UTF-8", "Save the file as UTF-8.");
  }
  const scan = scanJson(json);
  if (!scan.ok) {
    const { line, column } = scan.place;
    return refused(line, scan.line, `${scan.expected}, at character ${column}`, `Look at line ${line}.`);
  }
  const shape = faultsOf(costBookSchema, JSON.parse(json) as unknown);
  const faults = "faults" in shape ? shape.faults : nameFaults(shape.value);
  if ("value" in shape && faults.length === 0)
    return { ok: true, book: bookOf(shape.value), lineOf: (key) => scan.placeOf([key]).line };
  return { ok: false, problems: faults.map((fault) => ({ ...faultProblem(fault, scan.placeOf), file })) };
}

/** Crews, roles, machines and materials that are named but not in the book, and shares that cannot be. */
function nameFaults(book: Written): readonly Fault[] {
  const faults: Fault[] = [];
  const check = (path: (string | number)[], used: string, known: object, what: string) => {
    if (!Object.hasOwn(known, used))
      faults.push({
        path,
        found: used,
        expected: `one of the ${what}: ${Object.keys(known).join(", ") || "none yet"}`,
        remedy: `Correct the name, or add it to the ${what}.`,
      });
  };
  for (const [crew, { people, equipment }] of Object.entries(book.crews)) {
    for (const role of Object.keys(people)) check(["crews", crew, "people", role], role, book.roles, "roles");
    for (const each of Object.keys(equipment ?? {}))
      check(["crews", crew, "equipment", each], each, book.equipment, "equipment");
  }
  const unit = (
    path: string[],
    costs: Omit<NonNullable<Written["items"][keyof Written["items"]]>, "sizes">,
  ) => {
    if (costs.crew !== undefined) check([...path, "crew"], costs.crew, book.crews, "crews");
    for (const each of Object.keys(costs.materials ?? {}))
      check([...path, "materials", each], each, book.materials, "materials");
  };
  for (const [key, costs] of Object.entries(book.items)) {
    unit(["items", key], costs);
    for (const [size, own] of Object.entries(costs.sizes ?? {})) unit(["items", key, "sizes", size], own);
    for (const each of [costs, ...Object.values(costs.sizes ?? {})])
      if (each.minutes !== undefined && each.crew === undefined && costs.crew === undefined)
        faults.push(faultAt(book, ["items", key, "crew"], "the crew whose minutes these are"));
    // What is priced: each size with what the item says for all of them, or the item itself.
    const { sizes, ...own } = costs;
    const priced =
      sizes === undefined
        ? [{ path: ["items", key], costs: own }]
        : Object.entries(sizes).map(([size, of]) => ({
            path: ["items", key, "sizes", size],
            costs: { ...own, ...of },
          }));
    for (const { path, costs } of priced)
      if (costs.crew !== undefined && costs.minutes === undefined)
        faults.push(faultAt(book, [...path, "minutes"], MINUTES));
      else if (Object.values(costs).every((cost) => cost === undefined))
        faults.push(faultAt(book, path, COSTS));
  }
  const shares = [
    ...Object.entries(book.on_top).map(([key, share]) => ({ path: ["on_top", key], share })),
    ...Object.entries(book.materials).map(([key, { waste }]) => ({
      path: ["materials", key, "waste"],
      share: waste,
    })),
  ];
  for (const { path, share } of shares)
    if (typeof share === "number" && share >= 1) faults.push(faultAt(book, path, SHARE));
  for (const key of ["bonds", "insurance"] as const)
    if (!(partOf(book.on_top[key]) >= 0 && partOf(book.on_top.bonds) + partOf(book.on_top.insurance) < 1))
      faults.push(faultAt(book, ["on_top", key], "bonds and insurance together less than the whole price"));
  for (const key of ["contingency", "overhead", "profit"] as const)
    if (partOf(book.on_top[key]) < 0)
      faults.push(faultAt(book, ["on_top", key], "a share of nothing or more"));
  return faults;
}

const bookOf = (written: Written): CostBook => ({
  source: written.source,
  currency: written.currency,
  units: written.units,
  roles: written.roles,
  equipment: written.equipment,
  crews: Object.fromEntries(
    Object.entries(written.crews).map(([crew, { people, equipment }]) => [
      crew,
      { people, equipment: equipment ?? {} },
    ]),
  ),
  materials: Object.fromEntries(
    Object.entries(written.materials).map(([key, { unit, price, waste }]) => [
      key,
      { unit, price, waste: partOf(waste) },
    ]),
  ),
  items: Object.fromEntries(
    Object.entries(written.items).map(([key, { sizes, ...costs }]) => [
      key,
      {
        ...unitOf(costs),
        ...(sizes === undefined
          ? {}
          : { sizes: Object.fromEntries(Object.entries(sizes).map(([size, own]) => [size, unitOf(own)])) }),
      },
    ]),
  ),
  onTop: {
    contingency: partOf(written.on_top.contingency),
    overhead: partOf(written.on_top.overhead),
    profit: partOf(written.on_top.profit),
    bonds: partOf(written.on_top.bonds),
    insurance: partOf(written.on_top.insurance),
  },
});

/** Only what is written: an absent key of a size leaves the item's own in place. */
function unitOf({ per_job, ...costs }: Omit<NonNullable<Written["items"][keyof Written["items"]]>, "sizes">) {
  return { ...costs, ...(per_job === undefined ? {} : { perJob: per_job }) };
}
