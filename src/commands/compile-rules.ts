import { sheetColumns } from "../columns/dictionary.ts";
import { compileTogether } from "../formula/compile.ts";
import { readFormula } from "../formula/formula.ts";
import type { Step } from "../formula/step.ts";
import { isEarlier, type Vocabulary } from "../formula/vocabulary.ts";
import { facts } from "../plan/rule-facts.ts";
import type { CompiledRules, ReadRule } from "../plan/rules.ts";
import { scoreKeys } from "../plan/score-values.ts";
import type { Fault } from "../program/settings-faults.ts";
import type { Basis } from "../reference/basis.ts";
import type { Rule } from "../reference/rule-table.ts";
import { formulaFault, surveyColumns } from "./compile-recipe.ts";

/** What a rule may name: what is known of a lateral before its treatment, and the named facts. */
export const ruleVocabulary = ({ program }: Pick<Basis, "program">): Vocabulary => ({
  // Columns of later stages stay in the list, so that the refusal can say why.
  columns: [
    ...[...sheetColumns, ...surveyColumns].filter(
      (column) => scoreKeys.has(column.key) || !isEarlier(column, "treatment"),
    ),
    ...facts,
  ],
  stage: "treatment",
  asOf: program.asOf,
  currency: program.currency,
});

/** The rules with their formulas compiled together; or the faults, by the character. */
export function compileRules(
  basis: Pick<Basis, "program" | "rules">,
): CompiledRules & { readonly faults: readonly Fault[] } {
  const words = ruleVocabulary(basis);
  const faults: Fault[] = [];
  const steps: Step[] = [];
  const rules = basis.rules.rules.flatMap((rule): ReadRule[] => {
    const at = ["criteria", "rules", rule.name];
    const read = readFormula(rule.when, words, "flag");
    if (!read.ok) {
      faults.push(formulaFault([...at, "when"], rule.when, read.problem));
      return [];
    }
    const named = namesIn(rule);
    const unknown = named.filter((name) => !words.columns.some(({ key }) => key === name));
    if (unknown.length > 0) {
      faults.push({
        path: [...at, "because"],
        found: rule.because,
        expected: "columns or named facts between the braces",
        remedy: `Not known: ${unknown.join(", ")}.`,
      });
      return [];
    }
    const reads = words.columns.filter(({ key }) => read.formula.reads.includes(key) || named.includes(key));
    steps.push(read.formula.step);
    return [{ rule, reads: reads.map(({ key, measure }) => ({ key, measure })) }];
  });
  return { rules, together: compileTogether(steps), faults };
}

/** The values that a rule's wording names in braces. */
const namesIn = ({ because, otherwise, unknown }: Rule): readonly string[] =>
  [...`${because} ${otherwise ?? ""} ${unknown ?? ""}`.matchAll(/\{(\w+)\}/g)].map((found) => found[1]!);
