import { districtName } from "../quantity/district-name.ts";
import { showCount, showNumber, unitLabel } from "../quantity/show-quantity.ts";
import type { DistrictBatches } from "../season/batches.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { left, plainTable, right } from "./plain-table.ts";

const GRAMS_PER_KILOGRAM = 1000;

/** What each district's crews buy and weigh: one batch a liner. Nothing where nothing is lined. */
export function batchesText(
  { batches, basis }: PlannedProgram,
  width = Number.POSITIVE_INFINITY,
): readonly string[] {
  if (batches.length === 0) return [];
  const style = basis.program;
  const mass = (grams: number) => showNumber(grams / GRAMS_PER_KILOGRAM, "mass", style);
  const table = plainTable(
    [
      left("District"),
      right("Batches"),
      left("Resin"),
      left("Component"),
      right(`Mass ${unitLabel("mass", style)}`),
      right("Containers"),
      right(`Left ${unitLabel("mass", style)}`),
    ],
    batches.flatMap((of) =>
      of.components.map(({ component, grams, containers, leftoverGrams }) => [
        districtName(of.district),
        showCount(of.batches),
        of.resin,
        component,
        mass(grams),
        `${showCount(containers)}${of.inKits ? " kits" : ""}`,
        mass(leftoverGrams),
      ]),
    ),
    width,
  );
  return [["Batches and containers (takeoff; not bid quantities)", table, ...notes(batches)].join("\n")];
}

function notes(batches: readonly DistrictBatches[]): readonly string[] {
  const total = (of: (each: DistrictBatches) => number) => batches.reduce((sum, each) => sum + of(each), 0);
  const slow = total(({ tooSlow }) => tooSlow);
  const supplier = total(({ notComputed }) => notComputed);
  return [
    "Container sizes, waste and scale are assumptions until program.json gives them under criteria.wet_out.",
    ...(slow === 0
      ? []
      : [
          `${showCount(slow)} batch(es) would thicken before the liner is in place at the forecast temperature.`,
        ]),
    ...(supplier === 0
      ? []
      : [`Pot life of ${showCount(supplier)} batch(es) is not computed: the supplier's table.`]),
  ];
}
