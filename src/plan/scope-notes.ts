import type { Metres, Millimetres } from "../quantity/si.ts";
import type { LinerSystem, PlannedUse } from "../reference/liner-systems.ts";
import type { StandardScope, StandardScopes } from "../reference/standard-scopes.ts";
import type { Reason } from "./reason.ts";

/** The sizes a standard's scope speaks of. Nominal diameters; null where the liner has none. */
export interface ScopedSizes {
  readonly host: Millimetres;
  readonly main: Millimetres | null;
  readonly length: Metres | null;
}

/**
 * What lies outside the scope statement of a standard that covers this kind of liner, in the edition that was read.
 * Notes, never refusals: newer editions may say otherwise.
 */
export function scopeNotes(
  use: PlannedUse,
  system: LinerSystem,
  sizes: ScopedSizes,
  { scopes, slack }: StandardScopes,
): readonly Reason[] {
  const notes: Reason[] = [];
  for (const scope of scopes) {
    if (!covers(scope, use, system)) continue;
    const { standard, edition } = scope;
    const check = (
      what: "host" | "main" | "liner length",
      value: number | null,
      least: number,
      most: number,
    ) => {
      if (value === null) return;
      if (value >= least * (1 - slack.fraction) && value <= most * (1 + slack.fraction)) return;
      notes.push({ code: "outside scope", standard, edition, what, value, least, most });
    };
    if (scope.host !== null) check("host", sizes.host, scope.host.least, scope.host.most);
    if (scope.main !== null) check("main", sizes.main, scope.main.least, scope.main.most);
    if (scope.longest !== null) check("liner length", sizes.length, 0, scope.longest);
  }
  return notes;
}

const covers = (scope: StandardScope, use: PlannedUse, system: LinerSystem): boolean =>
  scope.uses.includes(use) &&
  scope.tubes.includes(system.tube.kind) &&
  scope.placing.some((method) => system.placing.includes(method));
