import type { Source } from "../reference/source.ts";

/**
 * Where a value comes from. `measured` is a survey's, `city` stands in the city's file, `decided` is a person's,
 * `estimated` is worked out from other values, `assumed` is a named assumption. An assumption is never silent.
 */
export type Origin = "measured" | "city" | "decided" | "estimated" | "assumed";

export interface Stated<T> {
  readonly value: T;
  readonly origin: Origin;
  /** Which assumption or decision, for people; null where the origin says enough. */
  readonly because: string | null;
}

export const stated = <T>(value: T, origin: Origin, because: string | null = null): Stated<T> => ({
  value,
  origin,
  because,
});

/** The value, or the named assumption where there is none. */
export function orAssumed<T>(
  given: Stated<T> | null,
  assumption: { readonly label: string; readonly value: T; readonly source: Source },
): Stated<T> {
  return given ?? stated(assumption.value, "assumed", assumption.label);
}
