import { type Deterioration, deteriorationSchema, houseDeterioration } from "../reference/deterioration.ts";
import { houseRankSpreads, type RankSpreads, rankSpreadsSchema } from "../reference/rank-spreads.ts";
import { type Sewersheds, sewershedsSchema } from "../reference/sewersheds.ts";
import { asTable, changedSource, checkedTable, overlaid } from "./changed-table.ts";
import { failureShares } from "./failure-schema.ts";
import { SETTINGS_FILE } from "./program-files.ts";
import { type Fault, oneOf } from "./settings-faults.ts";
import type { Settings } from "./settings-schema.ts";
import { typedValue } from "./written-values.ts";

/** How the network wears, and what treatments renew, with the program's changes laid over the table. */
export function layDeterioration(settings: Settings, faults: Fault[]): Deterioration | null {
  const changes = settings.criteria?.deterioration;
  if (changes === undefined) return houseDeterioration;
  const house = houseDeterioration;
  const at = ["criteria", "deterioration"];
  const where = (key: string) => `${at.join(".")}.${key}`;
  // Names of chains are the program's own and stay as they are written.
  const chains = {
    ...house.chains,
    ...Object.fromEntries(
      Object.entries(changes.chains ?? {}).map(([name, { rows, source }]) => [
        name,
        { source: { document: SETTINGS_FILE, at: where(`chains.${name}`), note: source }, rows },
      ]),
    ),
  };
  if (changes.chosen !== undefined && !Object.hasOwn(chains, changes.chosen)) {
    faults.push(oneOf(settings, [...at, "chosen"], Object.keys(chains)));
    return null;
  }
  const valued = (
    key: "era_starts" | "years_per_step" | "new_stays" | "useless_after_years",
    base: { readonly value: unknown; readonly source: Parameters<typeof changedSource>[1] },
  ) =>
    changes[key] === undefined
      ? base
      : {
          value: (asTable({ [key]: changes[key] }, failureShares) as Record<string, unknown>)[camel[key]],
          source: changedSource(where(key), base.source, `Changes ${key}.`),
        };
  const table = overlaid(
    {
      ...house,
      chains,
      chosen: changes.chosen ?? house.chosen,
      eraStarts: valued("era_starts", house.eraStarts),
      yearsPerStep: valued("years_per_step", house.yearsPerStep),
      newStays: valued("new_stays", house.newStays),
      uselessAfterYears: valued("useless_after_years", house.uselessAfterYears),
    },
    {
      assumedLife:
        changes.assumed_life === undefined
          ? undefined
          : {
              ...(asTable(changes.assumed_life, {}) as object),
              source: changedSource(where("assumed_life"), house.assumedLife.source, "Changes the life."),
            },
      renewal:
        changes.renewal === undefined
          ? undefined
          : {
              byTreatment: asTable(changes.renewal, { pipes: "percent" }),
              source: changedSource(
                where("renewal"),
                house.renewal.source,
                `Changes ${Object.keys(changes.renewal).join(", ")}.`,
              ),
            },
    },
  );
  return checkedTable(deteriorationSchema, table, settings, at, {}, faults, writtenPath);
}

const camel = {
  era_starts: "eraStarts",
  years_per_step: "yearsPerStep",
  new_stays: "newStays",
  useless_after_years: "uselessAfterYears",
} as const;

/** The table keeps values and treatments in groups of their own, which program.json does not write. */
const writtenPath = (path: readonly (string | number)[]) =>
  path.filter((step) => step !== "value" && step !== "byTreatment");

/** How far inputs are drawn about their values to see how sure the order is. */
export function layRankSpreads(settings: Settings, faults: Fault[]): RankSpreads | null {
  const changes = settings.criteria?.rank_spreads;
  if (changes === undefined) return houseRankSpreads;
  const at = ["criteria", "rank_spreads"];
  const table = {
    ...(overlaid(houseRankSpreads, asTable(changes, failureShares)) as object),
    source: changedSource(
      at.join("."),
      houseRankSpreads.source,
      `Changes ${Object.keys(changes).join(", ")}.`,
    ),
  };
  return checkedTable(rankSpreadsSchema, table, settings, at, {}, faults);
}

/** People and measured flows by district, as the program gives them: there is no table to lay them over. */
export function laySewersheds(settings: Settings, faults: Fault[]): Sewersheds | null {
  const written = settings.criteria?.sewersheds ?? {};
  const at = ["criteria", "sewersheds"];
  const flow = (text: string | undefined) => (text === undefined ? null : typedValue(text, "flow"));
  const table = Object.fromEntries(
    Object.entries(written).map(([district, { source, population, ...flows }]) => [
      district,
      {
        population,
        highGroundwaterFlow: flow(flows.high_groundwater_flow),
        stormFlow: flow(flows.storm_flow),
        source: { document: SETTINGS_FILE, at: `${at.join(".")}.${district}`, note: source },
      },
    ]),
  );
  return checkedTable(
    sewershedsSchema,
    table,
    settings,
    at,
    { high_groundwater_flow: "flow", storm_flow: "flow" },
    faults,
  );
}
