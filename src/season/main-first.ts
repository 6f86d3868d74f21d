import { type MainWait, TO_BE_LINED, waitOf } from "../plan/main-wait.ts";
import type { Basis } from "../reference/basis.ts";
import { type Table, textAt } from "../sheet/table.ts";

/** A lateral or district that `season.mains_lined` names without effect: no main there is to be lined. */
export interface IdleMain {
  readonly kind: "lateral" | "district";
  readonly name: string;
  /** What the city's list says of the lateral's main; "" where it says nothing, and of districts. */
  readonly lining: string;
}

/** What `season.mains_lined` names without effect, laterals first. Names that the city does not have are left to strangersIn. */
export function idleMains(laterals: Table, { mainsLined }: Pick<Basis, "mainsLined">): readonly IdleMain[] {
  const idle: IdleMain[] = [];
  if (Object.keys(mainsLined.districts).length + Object.keys(mainsLined.laterals).length === 0) return idle;
  const districts = new Map(Object.keys(mainsLined.districts).map((name) => [name, false]));
  const seen = new Set<string>();
  for (let row = 0; row < laterals.rows; row++) {
    const lining = liningAt(laterals, row);
    const district = textAt(laterals, "district", row);
    seen.add(district);
    if (lining === TO_BE_LINED && districts.has(district)) districts.set(district, true);
    const name = textAt(laterals, "lateral", row);
    if (lining !== TO_BE_LINED && name in mainsLined.laterals) idle.push({ kind: "lateral", name, lining });
  }
  for (const [name, hasMain] of districts)
    if (!hasMain && seen.has(name)) idle.push({ kind: "district", name, lining: "" });
  return idle;
}

/** Whether the treatment of a row waits for its main: see waitOf, which the plan reads too. */
export const waitForMain = (
  laterals: Table,
  row: number,
  treatment: string,
  basis: Pick<Basis, "mainsLined" | "calendar">,
): MainWait =>
  waitOf(
    {
      lateral: textAt(laterals, "lateral", row),
      district: textAt(laterals, "district", row),
      mainLining: liningAt(laterals, row),
    },
    treatment,
    basis,
  );

const liningAt = (laterals: Table, row: number): string =>
  laterals.columns.has("main_lining") ? textAt(laterals, "main_lining", row) : "";
