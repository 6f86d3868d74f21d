import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ColumnKey, decidableColumns } from "../../src/columns/dictionary.ts";
import type { ChangeSet } from "../../src/program/change-sets.ts";
import { readDecision } from "../../src/program/decision-value.ts";
import { currentDecisions, foldDecisions } from "../../src/program/decisions.ts";
import { describeProblem } from "../../src/quantity/problem.ts";

const ask = (column: string, value: string, reason = "seen on site", lateral = "00417") =>
  readDecision({ lateral, column, value, reason });
const said = (...args: Parameters<typeof ask>) => {
  const reading = ask(...args);
  return reading.ok ? "accepted" : reading.problems.map(describeProblem).join("\n");
};
const value = (...args: Parameters<typeof ask>) => {
  const reading = ask(...args);
  return reading.ok ? reading.decided.value : reading.problems.map(describeProblem).join("\n");
};

describe("what may be decided", () => {
  it("is stored in the column's unit, whatever unit it is written in", () => {
    expect(value("host_diameter", "6 in")).toBeCloseTo(152.4, 9); // 6 × 25.4 mm, exact by definition of the inch
    expect(value("host_diameter", "150 mm")).toBeCloseTo(150, 9);
    expect(value("cover_main", "8 ft")).toBeCloseTo(2.4384, 12); // 8 × 0.3048 m, exact
    expect(value("host_length", "37'-6\"")).toBeCloseTo(11.43, 9); // 450 in × 0.0254 m
  });

  it("asks what a bare number is", () => {
    expect(said("cover_main", "8")).toContain('Write "8 ft" or "8 m", whichever it is.');
    expect(said("host_diameter", "6")).toContain('Write "6 in" or "6 mm", whichever it is.');
  });

  it("refuses a unit of something else, a decimal comma, and text", () => {
    for (const written of ["8 psi", "8,5 ft", "deep", "", "8 ft 3", "1e3 ft"]) {
      expect(said("cover_main", written)).toContain("a number with its unit");
    }
  });

  it("holds values to the believable range of the column, said in both units", () => {
    expect(said("host_diameter", "48 in")).toContain("a value from 2 in to 15.7 in (50 mm to 400 mm)");
    expect(said("structural_grade", "6")).toContain("a value from 0 to 5");
    expect(said("install_year", "1066")).toContain("from 1850 to 2100");
    expect(value("structural_grade", "5")).toBe(5);
    expect(said("structural_grade", "4.5")).toContain("a whole number");
  });

  it("takes amounts to the cent, and holds them to what is believable in whole amounts, as they are written", () => {
    expect(value("installed_cost", "4200.50")).toBe(420_050);
    expect(value("installed_cost", "0")).toBe(0);
    expect(value("installed_cost", "1000000")).toBe(100_000_000);
    expect(said("installed_cost", "1000000.01")).toContain("an amount from 0 to 1000000");
    for (const written of ["-0.01", "4200.505", "USD 4200", "4200,50"])
      expect(said("installed_cost", written)).toContain("at most two decimals, such as 4200 or 4200.50");
  });

  it("takes words of the list in any case, and names the nearest for others", () => {
    expect(value("host_material", "pvc")).toBe("PVC");
    expect(value("treatment", "full-length liner")).toBe("full-length liner");
    expect(said("host_material", "claay")).toContain('Write "clay".');
    expect(value("cleanout", "yes")).toBe(1);
    expect(value("cleanout", "no")).toBe(0);
    expect(said("cleanout", "perhaps")).toContain('one of "yes", "no"');
  });

  it("refuses a column that is worked out, or that there is not", () => {
    expect(said("risk", "9")).toContain("a column that may be decided");
    expect(said("host_diametre", "6 in")).toContain("Write host_diameter.");
  });

  it("wants a lateral and a reason", () => {
    expect(said("host_diameter", "6 in", "  ")).toContain("why it is decided so");
    expect(said("host_diameter", "6 in", "x", " ")).toContain("the id of a lateral");
  });

  it("can read a value for every decidable column, so that none is refused for want of a reader", () => {
    for (const column of decidableColumns) {
      expect(() => ask(column.key, "1"), column.key).not.toThrow();
    }
  });
});

let nextId = 1;
const setOf = (
  number: number,
  ...records: readonly [lateral: string, column: string, value: string][]
): ChangeSet => ({
  kind: "set",
  number,
  when: "2026-03-01T08:00:00Z",
  who: "R. Ames",
  row: number,
  records: records.map(([lateral, column, written]) => ({
    id: nextId++,
    lateral,
    column,
    value: written,
    reason: "r",
    row: number,
  })),
});
const move = (number: number, kind: "undo" | "redo", target: number): ChangeSet => ({
  kind,
  number,
  target,
  when: "2026-03-01T08:00:00Z",
  who: "R. Ames",
  row: number,
});

describe("the decisions that stand", () => {
  it("are the last ones, and undo gives the earlier one back", () => {
    const sets = [setOf(1, ["7", "host_diameter", "4 in"]), setOf(2, ["7", "host_diameter", "6 in"])];
    const written = (all: readonly ChangeSet[]) =>
      currentDecisions({ sets: all }).get("7")?.get("host_diameter")?.written;
    expect(written(sets)).toBe("6 in");
    expect(written([...sets, move(3, "undo", 2)])).toBe("4 in");
    expect(written([...sets, move(3, "undo", 2), move(4, "undo", 1)])).toBeUndefined();
    expect(written([...sets, move(3, "undo", 2), move(4, "redo", 2)])).toBe("6 in");
  });

  it("let an earlier decision be taken back without undoing later ones", () => {
    const sets = [
      setOf(1, ["7", "host_diameter", "4 in"]),
      setOf(2, ["7", "backups", "2"]),
      setOf(3, ["7", "host_diameter", "as given"]),
    ];
    expect([...(currentDecisions({ sets }).get("7")?.keys() ?? [])]).toEqual(["backups"]);
  });

  it("say what cannot be used instead of dropping it", () => {
    const sets = [setOf(1, ["7", "host_diameter", "6"]), move(2, "undo", 9), move(3, "redo", 1)];
    const { decisions, problems } = foldDecisions(sets);
    expect(decisions.size).toBe(0);
    expect(problems.map(({ row, severity }) => [row, severity])).toEqual([
      [2, "noted"],
      [3, "noted"],
      [1, "rejected"],
    ]);
  });

  it("of one lateral never touch another whose id only looks the same", () => {
    const { decisions } = foldDecisions([setOf(1, ["007", "backups", "1"], ["7", "backups", "2"])]);
    expect(decisions.get("007")?.get("backups")?.value).toBe(1);
    expect(decisions.get("7")?.get("backups")?.value).toBe(2);
  });
});

// The other road: an editor's history with two stacks of whole states, which knows nothing of targets or numbers.
type Step =
  | { readonly do: "undo" | "redo" }
  | { readonly do: "set"; readonly records: [string, string, string][] };
const record = fc.tuple(
  fc.constantFrom("1", "01", "A-2"),
  fc.constantFrom("backups", "structural_grade"),
  fc.constantFrom("0", "1", "2", "3", "as given"),
);
const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ do: fc.constantFrom("undo" as const, "redo" as const) }),
  fc.record({ do: fc.constant("set" as const), records: fc.array(record, { minLength: 1, maxLength: 3 }) }),
);
type Plain = Record<string, string>;

function plainHistory(steps: readonly Step[]) {
  const sets: ChangeSet[] = [];
  const past: Plain[] = [];
  const future: Plain[] = [];
  let now: Plain = {};
  const states: Plain[] = [];
  for (const s of steps) {
    const state = foldDecisions(sets);
    const number = sets.length + 1;
    if (s.do === "set") {
      past.push(now);
      future.length = 0;
      now = { ...now };
      for (const [lateral, column, written] of s.records) {
        if (written === "as given") delete now[`${lateral} ${column}`];
        else now[`${lateral} ${column}`] = written;
      }
      sets.push(setOf(number, ...s.records));
    } else {
      const from = s.do === "undo" ? past : future;
      const to = s.do === "undo" ? future : past;
      const target = s.do === "undo" ? state.undoable : state.redoable;
      const there = from.pop();
      expect(target === null).toBe(there === undefined);
      if (there === undefined || target === null) continue;
      to.push(now);
      now = there;
      sets.push(move(number, s.do, target.number));
    }
    states.push(now);
  }
  return { sets, now };
}

describe("any sequence of decisions, undos and redos", () => {
  it("stands as in an editor with unlimited undo", () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 25 }), (steps) => {
        const { sets, now } = plainHistory(steps);
        const found: Plain = {};
        for (const [lateral, columns] of currentDecisions({ sets })) {
          expect(columns.size).toBeGreaterThan(0);
          for (const [column, { written }] of columns as ReadonlyMap<ColumnKey, { written: string }>) {
            found[`${lateral} ${column}`] = written;
          }
        }
        expect(found).toEqual(now);
      }),
      { numRuns: 500 },
    );
  });

  it("is back exactly where it was after as many undos as new sets", () => {
    fc.assert(
      fc.property(
        fc.array(step, { maxLength: 10 }),
        fc.array(record, { minLength: 1, maxLength: 8 }),
        (steps, more) => {
          const { sets } = plainHistory(steps);
          const before = foldDecisions(sets);
          const later = [...sets];
          for (const one of more) later.push(setOf(later.length + 1, one));
          for (const _ of more)
            later.push(move(later.length + 1, "undo", foldDecisions(later).undoable!.number));
          expect(foldDecisions(later).decisions).toEqual(before.decisions);
          expect(foldDecisions(later).undoable).toEqual(before.undoable);
        },
      ),
    );
  });
});
