import * as z from "zod";
import data from "../../shared/rank-spreads.json" with { type: "json" };
import { sourceSchema } from "./source.ts";

/** The scale of points has a width of 4. */
const points = z.number().min(0).max(4);

/** How far inputs are drawn about their values, half a width each, to see how sure the order is. */
export const rankSpreadsSchema = z.strictObject({
  what: z.string(),
  /** Points of likelihood of a lateral with, and without, a structural grade. */
  surveyed: points,
  notSurveyed: points,
  /** Points of consequence where the building or the surface is assumed. */
  assumedPoints: points,
  /** Part of itself by which a weight may differ. */
  weights: z.number().min(0).lt(1),
  source: sourceSchema,
});

export type RankSpreads = z.infer<typeof rankSpreadsSchema>;
export const houseRankSpreads: RankSpreads = rankSpreadsSchema.parse(data);
