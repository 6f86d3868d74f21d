import * as z from "zod";
import type { Column } from "../columns/column.ts";
import { inspectionColumns, lateralColumns, observationColumns } from "../columns/lateral-columns.ts";
import { dayFromIso } from "../quantity/calendar.ts";
import { dateStyles } from "../quantity/show-date.ts";
import { papers } from "../reference/basis.ts";
import { bidItemKeys } from "../reference/bid-items.ts";
import { observationKinds } from "../reference/observation-kinds.ts";
import { MOST_OWN } from "../reference/recipe.ts";
import { bidLayoutSchema } from "./bid-layout-settings.ts";
import { biddingSchema } from "./bidding-settings.ts";
import { coordinatesSchema } from "./coordinate-system.ts";
import { criteriaSchema } from "./criteria-schema.ts";
import { FILE_NAME_EXPECTED, isFileName } from "./program-files.ts";
import { seasonSchema } from "./season-schema.ts";
import { list, text, words } from "./written-values.ts";

const keysOf = <Key extends string>(columns: readonly { readonly key: Key }[]) =>
  columns.map((column) => column.key) as [Key, ...Key[]];

const columnPlace = z.strictObject({
  heading: text("the column's heading as the file writes it"),
  unit: text('the unit of bare numbers in this column, such as "in", "ft" or "mm"').optional(),
});

const cityFile = <Key extends string>(columns: readonly (Column & { readonly key: Key })[]) => ({
  file: z.string(FILE_NAME_EXPECTED).refine(isFileName, FILE_NAME_EXPECTED),
  delimiter: words([",", ";", "\t", "|"]),
  encoding: words(["utf-8", "utf-16le", "utf-16be", "windows-1252"]),
  decimal_mark: words([".", ","]),
  date_order: words(["month first", "day first"]),
  columns: z.partialRecord(z.enum(keysOf(columns)), columnPlace),
});

const FORMULA = 'a formula, such as "likelihood * consequence", or { "formula": …, "heading": … }';
const formula = text(FORMULA);
const headedFormula = z.strictObject({ formula, heading: text("the heading of the column in the sheet") });
const few = <Schema extends z.ZodRecord>(schema: Schema) =>
  schema.refine(
    (written) => Object.keys(written as object).length <= MOST_OWN,
    `at most ${MOST_OWN} of them`,
  );
const worstGrade = z.literal([5, 1, 0], "5, 1 or 0: the worst grade of the city's scale");
const kindNames = observationKinds.kinds.map(({ kind }) => kind) as [string, ...string[]];

const DAY = "a day that exists, written as 2026-03-01";
const CURRENCY = 'the three capital letters of a currency, such as "USD"';
const PRICE = 'a price such as 350.00, or prices by size such as { "4 in": 4200 }';

const inspectionFile = z.strictObject({
  ...cityFile(inspectionColumns),
  worst_grade: z.literal([5, 1, 0], "5, 1 or 0: the worst grade of the city's scale"),
});

/** `program.json` as people write it, strict: a key the program does not know is refused, not ignored. */
export const settingsSchema = z.strictObject({
  schema: z.literal(1, "1, the only form of program.json this version knows"),
  name: text("the program's name"),
  as_of: z.string(DAY).refine((written) => dayFromIso(written) !== null, DAY),
  units: words(["us", "si"]),
  currency: z.string(CURRENCY).regex(/^[A-Z]{3}$/, CURRENCY),
  /** How workbooks and the report look on paper; the paper follows the units unless it is named, dates are ISO. */
  print: z.strictObject({ paper: words(papers).optional(), dates: words(dateStyles).optional() }).optional(),
  laterals: z.strictObject(cityFile(lateralColumns)),
  inspections: inspectionFile.optional(),
  /** Inspections taken in later (`wyeplan add`), each read with its own map; their order here means nothing. */
  added_inspections: list(inspectionFile).optional(),
  /** What was seen in the surveys, a row an observation; only beside "inspections". */
  observations: z
    .strictObject({
      ...cityFile(observationColumns),
      worst_grade: worstGrade,
      /** The city's own codes for our kinds. */
      kinds: z.partialRecord(z.enum(kindNames), list(text("a code of the city's file"))).optional(),
    })
    .optional(),
  /** The system of the columns x and y. Without it they are numbers, and no place on earth. */
  coordinates: coordinatesSchema.optional(),
  district_aliases: z.record(z.string(), list(text("another name of the district"))).optional(),
  /** The city's own words for ours: column → our word → the city's words. */
  words: z.record(z.string(), z.record(z.string(), list(text("a word of the city's file")))).optional(),
  criteria: criteriaSchema.optional(),
  /** Formulas of shared/docs/formulas.md; commands/compile-recipe.ts reads them. */
  recipe: z
    .strictObject({
      likelihood: formula.optional(),
      consequence: formula.optional(),
      score: formula.optional(),
      columns: few(z.record(z.string(), z.union([formula, headedFormula], FORMULA))).optional(),
      filters: few(z.record(z.string(), formula)).optional(),
    })
    .optional(),
  season: seasonSchema.optional(),
  unit_prices: z
    .strictObject({
      source: text("who the prices are from"),
      items: z.partialRecord(
        z.enum(bidItemKeys),
        z.union([z.number(), z.record(z.string(), z.number())], PRICE),
      ),
    })
    .optional(),
  /** The program's instructions to bidders; a rule that is not here corrects nothing. */
  bidding: biddingSchema.optional(),
  /** How the bid schedule is divided; a program that does not say so asks for a base bid alone. */
  bid: bidLayoutSchema.optional(),
});

/** The settings of a program, as written: checked, and never changed on the way. */
export type Settings = z.infer<typeof settingsSchema>;
