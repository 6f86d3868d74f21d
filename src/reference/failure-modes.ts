import * as z from "zod";
import data from "../../shared/failure-modes.json" with { type: "json" };
import { fraction } from "../quantity/si.ts";
import { sourceSchema } from "./source.ts";

const share = z.number().min(0).max(1).transform(fraction);
const shares = z
  .strictObject({ least: share, best: share, most: share })
  .refine(({ least, best, most }) => least <= best && best <= most, { message: "least ≤ best ≤ most" });
const sourced = <Shape extends z.ZodRawShape>(shape: Shape) =>
  z.strictObject({ source: sourceSchema, ...shape });
/** A value for each grade, 0 to 5. */
const byGrade = <Value extends z.ZodType>(value: Value) => z.array(value).length(6);

interface Shares {
  readonly least: number;
  readonly best: number;
  readonly most: number;
}
const mapShares = ({ least, best, most }: Shares, of: (share: number) => number): Shares => ({
  least: of(least),
  best: of(best),
  most: of(most),
});
/** Whether no grade is better off than the one before it. */
const noLess = (grades: readonly Shares[]): boolean =>
  grades.every((grade, i) => {
    const before = grades[i - 1];
    return (
      before === undefined ||
      (grade.least >= before.least && grade.best >= before.best && grade.most >= before.most)
    );
  });

/** How likely a lateral fails in a year, mode by mode: rates per year, times in years, shares as fractions. */
export const failureModesSchema = z.strictObject({
  what: z.string(),
  wording: sourced({ byGrade: byGrade(z.string().min(1)) }),
  structural: sourced({
    byGrade: byGrade(z.strictObject({ withinYears: z.number().positive(), chance: shares })).refine(
      // The same steady hazard as the chance of a year is worked out from: −ln(1 − p)/years.
      (grades) =>
        noLess(
          grades.map(({ withinYears, chance }) => mapShares(chance, (p) => -Math.log1p(-p) / withinYears)),
        ),
      { message: "chances with which a worse grade fails no less often, for least, best and most" },
    ),
  }),
  reading: z
    .strictObject({
      poorFound: share,
      missed: share,
      falsePoor: share,
      // A source stands for what is before it: the basis sheet reads it so.
      source: sourceSchema,
      poorFrom: z.int().min(1).max(5),
      poorFromSource: sourceSchema,
    })
    .refine((r) => Math.abs(r.poorFound + r.missed - 1) < 1e-9, { message: "found and missed add up to 1" })
    .refine((r) => r.falsePoor < r.poorFound, {
      message: "a survey finds poor pipes more often than it errs",
    }),
  blockage: z.strictObject({
    ratePerYear: byGrade(z.number().positive()).refine(
      (rates) => rates.every((rate, grade) => grade === 0 || rate >= rates[grade - 1]!),
      { message: "a worse grade blocks no less often" },
    ),
    rateNotGraded: z.number().positive(),
    strengthYears: z.number().positive(),
    source: sourceSchema,
    callShare: share,
    callShareSource: sourceSchema,
    level: z.number().gt(0).lt(1).transform(fraction),
    levelSource: sourceSchema,
  }),
  infiltration: sourced({
    leaksByGrade: byGrade(shares).refine(noLess, {
      message: "chances with which a worse grade leaks no less often, for least, best and most",
    }),
    sealed: sourced({ least: share, best: share, most: share }),
    migration: sourced({ least: share, best: share, most: share }),
    /** Gallons per day, inch of diameter and mile of pipe. */
    unitRate: sourced({
      highSeasonGpdPerInchMile: z.number().min(0),
      lowSeasonGpdPerInchMile: z.number().min(0),
      highSeasonDays: z.int().min(0).max(365),
    }),
  }),
});

export type FailureModes = z.infer<typeof failureModesSchema>;
export const houseFailureModes: FailureModes = failureModesSchema.parse(data);
