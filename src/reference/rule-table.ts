import * as z from "zod";
import data from "../../shared/treatment-rules.json" with { type: "json" };
import { treatmentKinds } from "../columns/plan-columns.ts";
import { sourceSchema } from "./source.ts";
import { workKinds } from "./works.ts";

const treatments = z.array(z.enum(treatmentKinds)).min(1);

/** Who may go against a rule: a decision against a preference; for safety only the program's settings, with a name; nobody. */
export const ruleKinds = ["preference", "safety", "always"] as const;

/**
 * A rule about which treatments a lateral is offered. It does one of three: `asks` (offered where a known yes), `refuses` (where a yes or not
 * known), `adds` a work first (where a yes or not known).
 */
export const ruleSchema = z
  .strictObject({
    name: z.string().min(1),
    kind: z.enum(ruleKinds),
    asks: treatments.optional(),
    refuses: treatments.optional(),
    adds: z.enum(workKinds).optional(),
    to: treatments.optional(),
    /** In the formula language, over columns of the sheet and named facts. */
    when: z.string().min(1),
    /** What is said where it is a yes; `{name}` stands for a value. */
    because: z.string().min(1),
    /** What is said where an asking rule is a no. */
    otherwise: z.string().min(1).optional(),
    /** What is said where it is not known; made up of the missing names where the rule says nothing. */
    unknown: z.string().min(1).optional(),
    source: sourceSchema,
  })
  .refine((rule) => [rule.asks, rule.refuses, rule.adds].filter((each) => each !== undefined).length === 1, {
    message: 'one of "asks", "refuses" and "adds"',
  })
  .refine((rule) => (rule.adds === undefined) === (rule.to === undefined), {
    message: '"to" beside "adds": the treatments that the work is added to',
  });

export type Rule = z.infer<typeof ruleSchema>;

export const ruleTableSchema = z.strictObject({
  what: z.string(),
  rules: z.array(ruleSchema).refine((rules) => new Set(rules.map(({ name }) => name)).size === rules.length, {
    message: "each rule has its own name",
  }),
});

export type RuleTable = z.infer<typeof ruleTableSchema>;
export const houseRules: RuleTable = ruleTableSchema.parse(data);
