import { onceFor } from "../quantity/once-for.ts";
import type { TreatmentRules } from "../reference/treatment-rules.ts";
import type { WorkKind } from "../reference/works.ts";
import type { Reason } from "./reason.ts";
import type { AddedWork } from "./rules.ts";
import type { Verdict } from "./verdicts.ts";

/** One work of an offer. */
export interface OfferedWork {
  readonly work: WorkKind;
  /** Added by a rule, for the works that follow. */
  readonly preparation: boolean;
  /** The rules that added it; none for a work of the treatment's own. */
  readonly because: readonly Reason[];
}

/** A preparatory work. Why it is added is put together when somebody asks. */
class AddedFirst implements OfferedWork {
  readonly work: WorkKind;
  readonly preparation = true;
  readonly #first: readonly AddedWork[];

  constructor(work: WorkKind, first: readonly AddedWork[]) {
    this.work = work;
    this.#first = first;
  }

  get because(): readonly Reason[] {
    return this.#first.flatMap((each) => (each.work === this.work ? [each.because] : []));
  }
}

/** Preparatory works come in this order, whatever the order of the rules: a way in, clean, dry. */
const preparationOrder: readonly WorkKind[] = [
  "new cleanout",
  "clean and cut roots",
  "grouting of running infiltration",
];

/** What is done for a treatment, in order; what it does itself is not added again. */
export function listWorks(
  { treatment, first }: Pick<Verdict, "treatment" | "first">,
  { works }: TreatmentRules,
): readonly OfferedWork[] {
  const own = works[treatment];
  if (first.length === 0) return ownWorks(own);
  const added: WorkKind[] = [];
  for (const { work } of first) if (!own.includes(work) && !added.includes(work)) added.push(work);
  if (added.length === 0) return ownWorks(own);
  added.sort((a, b) => placeOf(a) - placeOf(b));
  return [...added.map((work) => new AddedFirst(work, first)), ...ownWorks(own)];
}

function placeOf(work: WorkKind): number {
  const found = preparationOrder.indexOf(work);
  return found < 0 ? preparationOrder.length : found;
}

/** A treatment's own list is one object for all laterals, and so are its works. */
const ownWorks = onceFor((own: readonly WorkKind[]): readonly OfferedWork[] =>
  own.map((work) => ({ work, preparation: false, because: [] })),
);
