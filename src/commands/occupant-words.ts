import type { ExplainedStage } from "../plan/explain.ts";
import { MAY_BE_SCHEDULED } from "../plan/explain-ownership.ts";
import type { Lateral } from "../plan/lateral.ts";
import type { Permission } from "../plan/permission.ts";
import type { Stated } from "../plan/stated.ts";
import type { Problem } from "../quantity/problem.ts";
import type { CommandIo } from "./command-io.ts";

/** Stands where somebody's own words were. */
const LEFT_OUT = "(left out)";

/** Says whether somebody's own words are in what is handed on, so that nobody takes them for missing. */
export function sayOwnWords(withAddresses: boolean, io: CommandIo): void {
  io.err(
    withAddresses
      ? "With what people and the city's files say in their own words: keep it from the public.\n"
      : "Left out, as it may tell of occupants: what people and the city's files say in their own words. --with-addresses puts it in.\n",
  );
}

/**
 * A problem without what the city's file holds, nor a remedy that repeats it: a cell that slipped into another column may
 * be an address or a name.
 */
export const withoutFound = (problem: Problem): Problem => ({
  ...problem,
  found: LEFT_OUT,
  remedy: "What was found, and what to do, stand in the planning book.",
});

/** A lateral without its address and what crews and deciders wrote of it; nothing that is planned hangs on their words. */
export const withoutWords = (lateral: Lateral): Lateral => ({
  ...withoutReasons(lateral),
  location: "",
  decided: withoutReasons(lateral.decided),
  tracked: withoutReasons(lateral.tracked),
  inspections: lateral.inspections.map((survey) => ({
    ...survey,
    stoppedBecause: survey.stoppedBecause === "" ? "" : LEFT_OUT,
    observations:
      survey.observations?.map((seen) => ({ ...seen, note: seen.note === "" ? "" : LEFT_OUT })) ?? null,
  })),
});

/**
 * A record as JSON without the days of a permission: whether it holds, and so whether work may be scheduled, is in what is handed on
 * everywhere.
 */
export function withoutPermissionDays(key: string, value: unknown): unknown {
  if (key === "permissionSigned" || key === "permissionExpires") return undefined;
  return key === "permission" && value !== null ? { kind: (value as Permission).kind } : value;
}

/** The same of the words. */
export const withoutSaidDays = (stages: readonly ExplainedStage[]): readonly ExplainedStage[] =>
  stages.map((stage) => ({
    ...stage,
    lines: stage.lines.map((line) =>
      line.label === MAY_BE_SCHEDULED ? { ...line, value: line.value.replace(/:.*/, "") } : line,
    ),
  }));

function withoutReasons<Values extends object>(values: Values): Values {
  const entries = Object.entries(values as Readonly<Record<string, unknown>>).map(
    ([key, value]) => [key, isDecided(value) ? { ...value, because: LEFT_OUT } : value] as const,
  );
  return Object.fromEntries(entries) as Values;
}

const isDecided = (value: unknown): value is Stated<unknown> =>
  typeof value === "object" &&
  value !== null &&
  (value as Stated<unknown>).origin === "decided" &&
  (value as Stated<unknown>).because !== null;
