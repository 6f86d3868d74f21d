import { onceFor } from "../quantity/once-for.ts";
import type { TreatmentRules } from "../reference/treatment-rules.ts";
import { type WorkKind, workKinds } from "../reference/works.ts";
import type { Reason } from "./reason.ts";
import type { Verdict } from "./verdicts.ts";

/** One work of an offer. */
export interface OfferedWork {
  readonly work: WorkKind;
  /** Added by a rule, for the works that follow. */
  readonly preparation: boolean;
}

/** Preparatory works come in this order, whatever the order of the rules: a way in, clean, dry. */
const preparationOrder: readonly WorkKind[] = [
  "new cleanout",
  "clean and cut roots",
  "grouting of running infiltration",
];

/** What is done for a treatment, in order; what it does itself is not added again. One list stands for all laterals of the same works. */
export function listWorks(
  { treatment, first }: Pick<Verdict, "treatment" | "first">,
  { works }: TreatmentRules,
): readonly OfferedWork[] {
  let listed = ownWorks(works[treatment]);
  for (let i = 0; i < first.length; i++) listed = listed.adding(first[i]!.work);
  return listed.works;
}

/** The rules that added a work, as reasons; none for a work of the treatment's own. */
export const whyAdded = (
  { work, preparation }: OfferedWork,
  { first }: Pick<Verdict, "first">,
): readonly Reason[] =>
  preparation ? first.flatMap((added) => (added.work === work ? [added.because] : [])) : [];

/** A treatment's own works, with those that rules have added so far. */
class ListedWorks {
  readonly works: readonly OfferedWork[];
  readonly #own: readonly WorkKind[];
  readonly #added: readonly WorkKind[];
  /** With one more, by its place in `workKinds`. */
  readonly #next: (ListedWorks | undefined)[] = [];

  constructor(own: readonly WorkKind[], added: readonly WorkKind[]) {
    this.works = [
      ...added.toSorted((a, b) => placeOf(a) - placeOf(b)).map((work) => ({ work, preparation: true })),
      ...own.map((work) => ({ work, preparation: false })),
    ];
    this.#own = own;
    this.#added = added;
  }

  adding(work: WorkKind): ListedWorks {
    const kind = workKinds.indexOf(work);
    this.#next[kind] ??=
      this.#own.includes(work) || this.#added.includes(work)
        ? this
        : new ListedWorks(this.#own, [...this.#added, work]);
    return this.#next[kind];
  }
}

function placeOf(work: WorkKind): number {
  const found = preparationOrder.indexOf(work);
  return found < 0 ? preparationOrder.length : found;
}

/** A treatment's own list is one object for all laterals. */
const ownWorks = onceFor((own: readonly WorkKind[]) => new ListedWorks(own, []));
