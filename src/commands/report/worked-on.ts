import { treatmentKinds } from "../../columns/plan-columns.ts";
import type { Totals } from "../../season/totals.ts";

/** These leave the pipe as it is. */
const LEFT: ReadonlySet<string> = new Set(["inspect first", "leave and re-inspect"]);

export const isWorkedOn = (treatment: string): boolean => !LEFT.has(treatment);

/** Laterals whose pipe something is done to. */
export const workedOn = ({ byTreatment }: Pick<Totals, "byTreatment">): number =>
  treatmentKinds.filter(isWorkedOn).reduce((sum, kind) => sum + byTreatment[kind], 0);
