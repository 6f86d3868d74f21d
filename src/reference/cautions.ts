import * as z from "zod";
import data from "../../shared/cautions.json" with { type: "json" };
import { type TreatmentKind, treatmentKinds } from "../columns/plan-columns.ts";
import { showCount } from "../quantity/show-quantity.ts";
import { sourceSchema } from "./source.ts";

const FOUND = "cross-bore found";

const cautionSchema = z.strictObject({
  key: z.string().min(1),
  for: z.array(z.enum([...treatmentKinds, "all", FOUND])).min(1),
  text: z.string().min(1),
  source: sourceSchema,
});

export type Caution = z.infer<typeof cautionSchema>;

export const cautions: readonly Caution[] = z
  .object({ cautions: z.array(cautionSchema).min(1) })
  .parse(data).cautions;

/**
 * The cautions to show beside work of these treatments, the general ones first; before all, where there are any, the laterals that a line
 * of a utility was found in.
 */
export function cautionsFor(treatments: ReadonlySet<TreatmentKind>, crossBores = 0): readonly Caution[] {
  const found =
    crossBores === 0
      ? []
      : [{ ...foundCrossBore, text: `${foundCrossBore.text} Laterals: ${showCount(crossBores)}.` }];
  return [
    ...found,
    ...cautions.filter((caution) =>
      caution.for.some((kind) => kind === "all" || (kind !== FOUND && treatments.has(kind))),
    ),
  ];
}

/** @throws RangeError for a caution that the table does not have */
export function cautionNamed(key: string): Caution {
  const found = cautions.find((caution) => caution.key === key);
  if (found === undefined) throw new RangeError(`cautionNamed: no caution ${JSON.stringify(key)}`);
  return found;
}

const foundCrossBore = cautionNamed(FOUND);
