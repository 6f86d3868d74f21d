import fc from "fast-check";
import { expect, it } from "vitest";
import { loadProgram } from "../../src/commands/load-program.ts";
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

it("selected rows keep their own observations, not those of the laterals that stood in their place", async () => {
  const folder = new URL("../../sample-programs/quennock-falls", import.meta.url).pathname;
  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  const { program } = loaded;
  // Every third lateral: places differ from rows, and surveys of those between are left out.
  const met = Uint8Array.from({ length: program.laterals.rows }, (_, row) => Number(row % 3 === 1));
  const part = selectRows(program, met);
  expect(part.tables.observations?.table.rows).toBeGreaterThan(100);
  for (let place = 0; place < part.laterals.rows; place++)
    expect(lateralAt(part.tables, place)).toEqual(lateralAt(program.tables, 3 * place + 1));
}, 60_000);
