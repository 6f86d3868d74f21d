import { readdirSync, readFileSync } from "node:fs";
import type { z } from "zod";
import { bidChecksSchema } from "../../src/reference/bid-checks.ts";
import { bidItemsSchema } from "../../src/reference/bid-items.ts";
import { designLifeSchema } from "../../src/reference/design-life.ts";
import { deteriorationSchema } from "../../src/reference/deterioration.ts";
import { drainFlowSchema } from "../../src/reference/drain-flow.ts";
import { effluentTableSchema } from "../../src/reference/effluents.ts";
import { failureCostsSchema } from "../../src/reference/failure-costs.ts";
import { failureModesSchema } from "../../src/reference/failure-modes.ts";
import { headerWordsSchema } from "../../src/reference/header-words.ts";
import { hostTableSchema } from "../../src/reference/hosts.ts";
import { materialRulesSchema } from "../../src/reference/materials.ts";
import { observationKindsSchema } from "../../src/reference/observation-kinds.ts";
import { placingSchema } from "../../src/reference/placing-methods.ts";
import { plausibilitySchema } from "../../src/reference/plausibility.ts";
import { rankSpreadsSchema } from "../../src/reference/rank-spreads.ts";
import { riskTablesSchema } from "../../src/reference/risk-tables.ts";
import { ruleTableSchema } from "../../src/reference/rule-table.ts";
import { seasonDaysSchema } from "../../src/reference/season-days.ts";
import { soilModuliSchema } from "../../src/reference/soil-moduli.ts";
import { standardScopesSchema } from "../../src/reference/standard-scopes.ts";
import { treatmentEffectsSchema } from "../../src/reference/treatment-effects.ts";
import { treatmentRulesSchema } from "../../src/reference/treatment-rules.ts";
import { uncertaintySchema } from "../../src/reference/uncertainty.ts";
import { valueWordsSchema } from "../../src/reference/value-words.ts";
import { wetOutRulesSchema } from "../../src/reference/wet-out-rules.ts";
import { workStepsSchema } from "../../src/reference/work-steps.ts";
import type { Outcome } from "./fuzz-results.ts";
import { root } from "./seeds.ts";

/** Every reference table that has a schema of its own, by the name of its file in shared/. */
const SCHEMAS: Readonly<Record<string, z.ZodType>> = {
  "bid-checks": bidChecksSchema,
  "bid-items": bidItemsSchema,
  "design-life": designLifeSchema,
  deterioration: deteriorationSchema,
  "drain-flow": drainFlowSchema,
  effluents: effluentTableSchema,
  "failure-costs": failureCostsSchema,
  "failure-modes": failureModesSchema,
  "header-words": headerWordsSchema,
  hosts: hostTableSchema,
  materials: materialRulesSchema,
  "observation-kinds": observationKindsSchema,
  "placing-methods": placingSchema,
  plausibility: plausibilitySchema,
  "rank-spreads": rankSpreadsSchema,
  risk: riskTablesSchema,
  "season-days": seasonDaysSchema,
  "soil-moduli": soilModuliSchema,
  "standard-scopes": standardScopesSchema,
  "treatment-effects": treatmentEffectsSchema,
  "treatment-rules": ruleTableSchema,
  treatments: treatmentRulesSchema,
  uncertainty: uncertaintySchema,
  "value-words": valueWordsSchema,
  "wet-out": wetOutRulesSchema,
  "work-steps": workStepsSchema,
};
const names = Object.keys(SCHEMAS);

/** Each table's own text, after a byte that says which it is, so that the bytes alone say all. */
export const houseTables: readonly Uint8Array[] = names.map((name, i) =>
  Buffer.concat([Buffer.from([i]), readFileSync(`${root}/shared/${name}.json`)]),
);

/** A damaged table is taken, or refused with where and what was expected. */
export function readsAsTable(bytes: Uint8Array): Outcome {
  const name = names[(bytes[0] ?? 0) % names.length]!;
  let written: unknown;
  try {
    written = JSON.parse(new TextDecoder().decode(bytes.subarray(1)));
  } catch (error) {
    if (error instanceof SyntaxError) return "refused";
    throw error;
  }
  const read = SCHEMAS[name]!.safeParse(written);
  if (read.success) return "taken";
  const silent = read.error.issues.length === 0 || read.error.issues.some(({ message }) => message === "");
  return silent ? { fault: `${name}: refused without a reason` } : "refused";
}

/** Files of shared/ that no schema of this list reads. */
export const tablesWithout = (): readonly string[] =>
  readdirSync(`${root}/shared`).filter(
    (file) => file.endsWith(".json") && !names.includes(file.slice(0, -5)),
  );
