import type { EffluentKind } from "../columns/lateral-columns.ts";
import { type Celsius, celsius } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";
import { orAssumed, type Stated } from "./stated.ts";

/** What the lateral carries: it chooses or refuses a resin, and heat above the city's limit is flagged. */
export interface Effluent {
  readonly kind: Stated<EffluentKind>;
  readonly temperature: Stated<Celsius>;
  /** Flags that stop no work. */
  readonly notes: readonly Reason[];
}

const NO_NOTES: readonly Reason[] = [];

/** The city's word on the effluent, or the named assumptions where it has none. */
export function readEffluent(
  lateral: Lateral,
  { assumptions, effluents }: Pick<Basis, "assumptions" | "effluents">,
): Effluent {
  const kind = orAssumed(lateral.effluent, assumptions.effluent);
  const { label, value, source } = assumptions.effluent_temperature;
  const temperature =
    lateral.effluentTemperature ?? orAssumed(null, { label, value: celsius(value), source });
  const limit = effluents.dischargeLimit.celsius;
  const notes: readonly Reason[] =
    temperature.value > limit
      ? [{ code: "effluent over discharge limit", temperature: temperature.value, limit }]
      : NO_NOTES;
  return { kind, temperature, notes };
}
