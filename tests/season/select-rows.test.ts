import fc from "fast-check";
import { expect, it } from "vitest";
import { planLateral } from "../../src/plan/plan-lateral.ts";
import { lateralAt } from "../../src/season/lateral-at.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { selectRows } from "../../src/season/select-rows.ts";
import { numberAt, type Table, textAt } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, surveyRow } from "./examples.ts";

const anyRow = fc.record({
  keep: fc.boolean(),
  grade: fc.integer({ min: 0, max: 5 }),
  district: fc.constantFrom("LS-14", "Mill Creek"),
});

/** What rests on the fits to the whole city stays the whole city's: a part of it planned alone has other fits. */
const withoutFits = ({ rows, columns }: Table) => {
  const fitted = ["remaining_loss", "loss_avoided", "infiltration_removed"];
  return { rows, columns: new Map([...columns].filter(([key]) => !fitted.includes(key))) };
};

it("selected rows are a plan of their own: the totals of a plan of them alone, their records, the whole's ranks", () => {
  fc.assert(
    fc.property(fc.array(anyRow, { minLength: 1, maxLength: 12 }), (drawn) => {
      const rows = drawn.map(({ district }, i) =>
        lateralRow(`L${i}`, { district, location: `${i} Weir Street` }),
      );
      const surveys = drawn.map(({ grade }, i) => surveyRow(`L${i}`, grade));
      const whole = planProgram(programTables(rows, surveys), usBasis, { problems: [], tallies: [] });
      const part = selectRows(
        whole,
        Uint8Array.from(drawn, ({ keep }) => Number(keep)),
      );
      const alone = planProgram(
        programTables(
          rows.filter((_, i) => drawn[i]?.keep),
          surveys,
        ),
        usBasis,
        { problems: [], tallies: [] },
      );
      expect(part.totals).toEqual(alone.totals);
      expect(part.batches).toEqual(alone.batches);
      expect(part.order).toEqual(alone.order);
      const { offers, lines } = alone;
      expect(withoutFits(part.offers)).toEqual(withoutFits(offers));
      // The whole program's list of words stays; the words of the rows are the same.
      expect(part.lines.columns.get("lateral_row")).toEqual(lines.columns.get("lateral_row"));
      expect(part.lines.columns.get("extension")).toEqual(lines.columns.get("extension"));
      const words = (of: typeof lines) => Array.from({ length: of.rows }, (_, at) => textAt(of, "line", at));
      expect(words(part.lines)).toEqual(words(lines));
      for (let row = 0; row < part.laterals.rows; row++) {
        const id = textAt(part.laterals, "lateral", row);
        expect(planLateral(lateralAt(part.tables, row), usBasis).lateral.location).toBe(
          `${id.slice(1)} Weir Street`,
        );
        expect(part.tables.firstInspection[row + 1]! - part.tables.firstInspection[row]!).toBe(1);
        expect(numberAt(part.laterals, "rank", row)).toBe(
          numberAt(whole.laterals, "rank", Number(id.slice(1))),
        );
      }
    }),
    { numRuns: 60 },
  );
});
