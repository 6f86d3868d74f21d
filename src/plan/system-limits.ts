import type { Basis, ChosenLiner } from "../reference/basis.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import type { Effluent } from "./effluent.ts";
import type { Lateral } from "./lateral.ts";
import type { Reason } from "./reason.ts";

/** Why this effluent may not run through this system: its resin, the tube, or heat over the resin's rating. */
export function effluentRefusals(
  { kind, temperature }: Effluent,
  { system, resin }: ChosenLiner,
  { effluents }: Basis["effluents"],
): Reason[] {
  const found: Reason[] = [];
  const entry = effluents.find(({ key }) => key === kind.value);
  const verdict = entry?.resins[resin.key];
  if (entry === undefined || verdict === undefined || verdict.verdict === "refused") {
    const instead = Object.entries(entry?.resins ?? {})
      .filter(([, other]) => other.verdict === "chosen")
      .map(([key]) => key);
    const because = verdict?.because ?? "is not in the table of effluents";
    found.push({ code: "effluent refused", effluent: kind.value, resin: resin.label, because, instead });
  } else if (!system.resists.includes(kind.value)) {
    found.push({ code: "effluent not resisted", effluent: kind.value, system: system.label });
  }
  if (temperature.value > system.temperatureRating) {
    found.push({
      code: "effluent over rating",
      temperature: temperature.value,
      limit: system.temperatureRating,
    });
  }
  return found;
}

/**
 * Why a liner of this system cannot be brought through this lateral. What the city does not say is not held against
 * it; see `reachNotes`. A connection liner is launched from the main and passes no bends.
 */
export function reachRefusals(lateral: Lateral, use: PlannedUse, { system }: ChosenLiner): Reason[] {
  const found: Reason[] = [];
  if (use === "connection") return found;
  const bend = lateral.sharpestBend?.value;
  if (bend !== undefined && bend > system.greatestBend)
    found.push({ code: "bend too sharp", degrees: bend, limit: system.greatestBend });
  // A section lies on one side of a change of size; a full-length or one-piece liner lies across it.
  if (use === "section") return found;
  const change = lateral.sizeChange?.value;
  if (change !== undefined && change > system.sizeChangeBridged)
    found.push({ code: "size change too great", change, limit: system.sizeChangeBridged });
  const length = lateral.hostLength?.value;
  if (length !== undefined && length > system.longestLength)
    found.push({ code: "longer than system", length, limit: system.longestLength });
  return found;
}

/** What about the way through is not known and must be looked at before work. */
export function reachNotes({ bends, sharpestBend }: Lateral, use: PlannedUse): Reason[] {
  const unknown = use !== "connection" && bends !== null && bends.value > 0 && sharpestBend === null;
  return unknown ? [{ code: "sharpest bend unknown", bends: bends.value }] : [];
}
