import { districtName } from "../quantity/district-name.ts";
import { showCount, showNumber, unitLabel } from "../quantity/show-quantity.ts";
import { litresOf, showFlowSums } from "../quantity/summed-flow.ts";
import { bidItemKeys } from "../reference/bid-items.ts";
import { type BeforeAfter, type Breakdown, breakDown } from "../season/breakdown.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { left, plainTable, right } from "./plain-table.ts";
import { wrapped } from "./wrapped.ts";

/** Where the money goes, and risk and clear water before and after the plan, by district. */
export function breakdownText(program: PlannedProgram, columns: number): readonly string[] {
  const { basis, laterals } = program;
  const { districts, program: all } = breakDown(program);
  const { currency } = basis.program;
  const items = bidItemKeys.filter((item) => all.costByItem.has(item));
  const isKnown = {
    loss: all.loss.notKnown < laterals.rows,
    infiltration: all.infiltration.notKnown < laterals.rows,
  };
  // Without prices and without anything known the table would be a column of names.
  if (items.length === 0 && !isKnown.loss && !isKnown.infiltration) return [];
  const money = (cents: number) => showNumber(cents, "money", basis.program);
  const flows = (when: "before" | "after") => {
    const litres = (of: Breakdown) => litresOf(of.infiltration[when]);
    return showFlowSums(districts.map(litres), litres(all), basis.program);
  };
  const [before, after] = [flows("before"), flows("after")];
  const pair = (of: BeforeAfter, shown: (value: number) => string) => [shown(of.before), shown(of.after)];
  const row = (name: string, of: Breakdown, i: number) => [
    name,
    ...items.map((item) => money(of.costByItem.get(item) ?? 0)),
    ...(isKnown.loss ? pair(of.loss, money) : []),
    ...(isKnown.infiltration ? [before[i]!, after[i]!] : []),
  ];
  const water = unitLabel("flow", basis.program);
  const table = plainTable(
    [
      left("District"),
      ...items.map((item) => right(item)),
      ...(isKnown.loss ? [right(`Loss ${currency}`), right("after")] : []),
      ...(isKnown.infiltration ? [right(`Water ${water}`), right("after")] : []),
    ],
    [
      ...districts.map((of, i) => row(districtName(of.district), of, i)),
      null,
      row("Program", all, districts.length),
    ],
    columns,
  );
  const notes = [
    ...(isKnown.loss
      ? [
          `Loss: present worth of the failures expected over ${basis.life.horizonYears} years, nothing done and with the plan done once${notKnown(all.loss)}.`,
        ]
      : []),
    ...(isKnown.infiltration
      ? [
          `Water: seasonal mean in the season of high groundwater, before and after${notKnown(all.infiltration)}.`,
        ]
      : []),
  ];
  return [
    [
      `Cost by bid item, ${currency}${isKnown.loss || isKnown.infiltration ? ", and risk and clear water before and after" : ""}`,
      table,
      ...notes.map((note) => wrapped(note, "", "  ", columns)),
    ].join("\n"),
  ];
}

const notKnown = ({ notKnown: count }: BeforeAfter): string =>
  count === 0 ? "" : `; ${showCount(count)} lateral(s) not known and in neither`;
