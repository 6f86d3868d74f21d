import { type Assumptions, assumptionsSchema, houseAssumptions } from "../reference/assumptions.ts";
import { type DesignLife, designLifeSchema, houseDesignLife } from "../reference/design-life.ts";
import { houseRiskTables, type RiskTables, riskTablesSchema } from "../reference/risk-tables.ts";
import { houseRules, type RuleTable, ruleTableSchema } from "../reference/rule-table.ts";
import type { Source } from "../reference/source.ts";
import {
  houseTreatmentRules,
  type TreatmentRules,
  treatmentRulesSchema,
} from "../reference/treatment-rules.ts";
import { houseWorkSteps, type WorkSteps, workStepsSchema } from "../reference/work-steps.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import { type Fault, faultAt, faultsOf, oneOf } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";

const assumptionQuantities = {
  cover: "length",
  water_table_depth: "length",
  ovality: "percent",
  effluent_temperature: "temperature",
} as const;

export function layAssumptions(settings: Settings, faults: Fault[]): Assumptions | null {
  const changes = settings.criteria?.assumptions ?? {};
  const at = ["criteria", "assumptions"];
  const table: Record<string, unknown> = { ...houseAssumptions };
  for (const [written, value] of Object.entries(changes)) {
    // The table's keys are those of program.json, so only the value is translated.
    const [changed] = Object.values(asTable({ [written]: value }, assumptionQuantities) as object);
    const base = houseAssumptions[written as keyof Assumptions];
    const note = `${base.label}, for this program.`;
    table[written] = {
      ...base,
      value: changed,
      source: changedSource(`${at.join(".")}.${written}`, base.source, note),
    };
  }
  // The table keeps each value in a group of its own; program.json writes it under the key itself.
  const inner: Fault[] = [];
  const checked = checkedTable(assumptionsSchema, table, settings, at, {}, inner);
  faults.push(
    ...inner.map((fault) => {
      const path = fault.path.filter((part) => part !== "value");
      return { ...faultAt(settings, path, withUnit(fault.expected, path)) };
    }),
  );
  return checked;
}

/** Lengths are kept in metres and limits are worded so. */
const withUnit = (expected: string, path: readonly (string | number)[]): string =>
  ["cover", "water_table_depth"].includes(String(path.at(-1))) ? `${expected} m` : expected;

export function layRisk(settings: Settings, faults: Fault[]): RiskTables | null {
  const changes = settings.criteria?.risk;
  if (changes === undefined) return houseRiskTables;
  const house = houseRiskTables;
  const source = (key: string, replaced: Source, value: unknown) =>
    value === undefined ? replaced : changedSource(`criteria.risk.${key}`, replaced, `Changes ${key}.`);
  const table = overlaid(overlaid(house, asTable(changes, {})), {
    likelihood: {
      source: source("likelihood.structural", house.likelihood.source, changes.likelihood?.structural),
      omSource: source("likelihood.om", house.likelihood.omSource, changes.likelihood?.om),
      backupsSource: source(
        "likelihood.backups",
        house.likelihood.backupsSource,
        changes.likelihood?.backups,
      ),
    },
    uninspected: { source: source("uninspected", house.uninspected.source, changes.uninspected) },
    consequence: { source: source("consequence", house.consequence.source, changes.consequence) },
  });
  return checkedTable(riskTablesSchema, table, settings, ["criteria", "risk"], {}, faults);
}

export function layTreatments(settings: Settings, faults: Fault[]): TreatmentRules | null {
  const changes = settings.criteria?.treatments;
  if (changes === undefined) return houseTreatmentRules;
  const house = houseTreatmentRules;
  const thresholds = asTable(changes.thresholds ?? {}, { greatest_ovality: "percent" }) as object;
  const changed = Object.keys(changes.thresholds ?? {});
  const thresholdSources = Object.fromEntries(
    Object.keys(thresholds).map((key, i) => {
      const at = `criteria.treatments.thresholds.${changed[i]}`;
      return [key, changedSource(at, house.thresholdSources[key] ?? house.source, `Changes ${changed[i]}.`)];
    }),
  );
  const table = overlaid(house, {
    thresholds,
    thresholdSources,
    ...(changes.sectional === undefined ? {} : { sectional: changedSections(changes.sectional) }),
    ...(changes.open_cut === undefined
      ? {}
      : {
          openCut: {
            ...(asTable(changes.open_cut, { trench_width: "length" }) as object),
            source: changedSource(
              "criteria.treatments.open_cut",
              house.openCut.source,
              "Changes trench_width.",
            ),
          },
        }),
    ...(changes.bursting === undefined
      ? {}
      : {
          bursting: {
            ...(asTable(changes.bursting, { area: "area" }) as object),
            source: changedSource("criteria.treatments.bursting", house.bursting.source, "Changes the pits."),
          },
        }),
    ...(changes.order === undefined
      ? {}
      : {
          order: changes.order,
          source: changedSource("criteria.treatments.order", house.source, "Changes the order."),
        }),
  });
  return checkedTable(treatmentRulesSchema, table, settings, ["criteria", "treatments"], {}, faults);
}

const sectionLengths = {
  overlap_each_side: "length",
  defect_length: "length",
  lap: "length",
  stocked_lengths: "length",
  clear_each_side: "length",
} as const;

/** How sections are placed, with a program's own lengths; each of the two sources names what of its own was changed. */
function changedSections(changes: { readonly stocked_lengths?: readonly unknown[] | undefined }): object {
  const { source, placingSource } = houseTreatmentRules.sectional;
  const named = Object.keys(changes);
  const from = (keys: readonly string[], replaced: Source) => {
    const changed = named.filter((key) => keys.includes(key));
    return changed.length === 0
      ? replaced
      : changedSource("criteria.treatments.sectional", replaced, `Changes ${changed.join(", ")}.`);
  };
  const { stockedLengths, ...changed } = asTable(changes, sectionLengths) as Record<string, unknown>;
  return {
    ...changed,
    ...(stockedLengths === undefined ? {} : { stockedLengths: { values: stockedLengths } }),
    source: from(["overlap_each_side", "defect_length", "stocked_lengths"], source),
    placingSource: from(["lap", "keep_clear", "repairs"], placingSource),
  };
}

export function layWorkSteps(settings: Settings, faults: Fault[]): WorkSteps | null {
  const changes = settings.criteria?.work_steps;
  if (changes === undefined) return houseWorkSteps;
  const house = houseWorkSteps;
  const at = "criteria.work_steps";
  const named = Object.keys(changes.steps ?? {});
  const table = overlaid(overlaid(house, asTable(changes, {})), {
    source:
      named.length === 0
        ? house.source
        : changedSource(`${at}.steps`, house.source, `Changes the steps of ${named.join(", ")}.`),
    ...Object.fromEntries(
      (
        [
          ["shift_minutes", "shiftSource", "the shift"],
          ["crews", "crewsSource", "the crews"],
          ["longest_outage_minutes", "outageSource", "the longest outage"],
          ["notice_days", "noticeSource", "the days of notice"],
          ["notice_counts_in", "noticeSource", "how days of notice are counted"],
          ["work_hours", "workHoursSource", "the hours of work"],
        ] as const
      )
        .filter(([key]) => changes[key] !== undefined)
        .map(([key, source, what]) => [
          source,
          changedSource(`${at}.${key}`, house[source], `Changes ${what}.`),
        ]),
    ),
  });
  return checkedTable(workStepsSchema, table, settings, ["criteria", "work_steps"], {}, faults);
}

/** Lives, horizon and discount rate with the program's changes laid over them. */
export function layDesignLife(settings: Settings, faults: Fault[]): DesignLife | null {
  const changes = settings.criteria?.design_life;
  if (changes === undefined) return houseDesignLife;
  const house = houseDesignLife;
  const at = "criteria.design_life";
  const money = ["horizon_years", "discount_rate"].filter((key) => key in changes);
  const table = overlaid(overlaid(house, asTable(changes, {})), {
    source:
      money.length === 0 ? house.source : changedSource(at, house.source, `Changes ${money.join(", ")}.`),
    yearsSource:
      changes.years === undefined
        ? house.yearsSource
        : changedSource(
            `${at}.years`,
            house.yearsSource,
            `Changes the life of ${Object.keys(changes.years).join(", ")}.`,
          ),
  });
  return checkedTable(designLifeSchema, table, settings, ["criteria", "design_life"], {}, faults);
}

/**
 * The house's rules with the program's own laid over them: a rule switched off, its condition or wording changed, or one more. What is safety needs
 * the word of who says so; what holds always stays.
 */
export function layRules(settings: Settings, faults: Fault[]): RuleTable | null {
  const changes = settings.criteria?.rules;
  if (changes === undefined) return houseRules;
  const names = houseRules.rules.map(({ name }) => name);
  const kept = houseRules.rules.flatMap((rule): unknown[] => {
    const change = changes[rule.name];
    if (change === undefined) return [rule];
    const at = ["criteria", "rules", rule.name];
    if (rule.kind === "always")
      faults.push(faultAt(settings, at, "no change: this rule holds always\nTake it out of program.json."));
    else if (rule.kind === "safety" && change.says_who === undefined)
      faults.push(
        faultAt(
          settings,
          [...at, "says_who"],
          "who says that this rule of safety may be changed, by name or office",
        ),
      );
    if (change.off === true) return [];
    const { off, says_who, ...words } = change;
    const note = says_who === undefined ? "Changes the rule." : `Changes the rule; says who: ${says_who}.`;
    return [{ ...rule, ...words, source: changedSource(`criteria.rules.${rule.name}`, rule.source, note) }];
  });
  const added = Object.entries(changes).flatMap(([name, { off, says_who, ...words }]): unknown[] => {
    if (names.includes(name)) return [];
    if (off === true) {
      faults.push(oneOf(settings, ["criteria", "rules", name], names));
      return [];
    }
    const source = { document: "program.json", at: `criteria.rules.${name}` };
    return [{ name, kind: "preference", ...words, source }];
  });
  const table = { ...houseRules, rules: [...kept, ...added] };
  const checked = faultsOf(ruleTableSchema, table, settings, (path) => [
    "criteria",
    "rules",
    ...(typeof path[1] === "number"
      ? [(table.rules[path[1]] as { name: string }).name, ...path.slice(2)]
      : []),
  ]);
  if ("value" in checked) return checked.value;
  faults.push(...checked.faults);
  return null;
}
