import * as z from "zod";
import data from "../../shared/bid-items.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

export const bidItemKeys = [
  "mobilization",
  "traffic control",
  "camera inspection",
  "root cutting",
  "sectional liner",
  "full-length liner",
  "additional liner length",
  "connection liner",
  "new cleanout",
  "open-cut replacement",
  "surface restoration",
  "joint grouting",
  "pipe bursting",
  "grouting of running infiltration",
  "one-piece liner",
  "additional one-piece length",
  "reinstatement",
] as const;
export type BidItemKey = (typeof bidItemKeys)[number];

export const bidUnits = ["lump sum", "each", "length", "area"] as const;
export type BidUnit = (typeof bidUnits)[number];

const bidItemSchema = z.strictObject({
  key: z.enum(bidItemKeys),
  number: z.number().int().positive(),
  wording: z.string().min(1),
  unit: z.enum(bidUnits),
  variant: z.enum([
    "none",
    "diameter",
    "diameter and length",
    "main diameter",
    "diameter and main",
    "surface",
    "depth",
  ]),
  /** Measurement and payment, in our own words. */
  payment: z.string().min(1),
});

export type BidItem = z.infer<typeof bidItemSchema>;

const depths = z
  .array(z.number().positive())
  .min(1)
  .refine((limits) => limits.every((limit, i) => i === 0 || limit > limits[i - 1]!), {
    message: "limits of depth rise",
  });

export const bidItemsSchema = z.strictObject({
  what: z.string(),
  source: sourceSchema,
  /** Length in the base price of a full-length or one-piece liner: feet in a US program, metres in an SI one. */
  includedLength: z.strictObject({
    us: z.number().positive(),
    si: z.number().positive(),
    source: sourceSchema,
  }),
  /** Upper limits of the bands of depth a cleanout is paid by, in the same units; the last band has no limit. */
  cleanoutDepths: z.strictObject({ us: depths, si: depths, source: sourceSchema }),
  items: z
    .array(bidItemSchema)
    .refine((items) => new Set(items.map((item) => item.number)).size === items.length, {
      message: "each item has its own number",
    }),
});

export type BidItems = z.infer<typeof bidItemsSchema>;

export const houseBidItems: BidItems = bidItemsSchema.parse(data);
