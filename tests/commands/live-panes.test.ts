import { describe, expect, it } from "vitest";
import { LivePanes } from "../../src/commands/live-panes.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { countRiskMatrix } from "../../src/season/risk-matrix.ts";

/** A program of which only likelihood and consequence are looked at. */
function programOf(rows: number): { program: PlannedProgram; likelihood: Float64Array } {
  const likelihood = Float64Array.from({ length: rows }, (_, row) =>
    row % 7 === 6 ? Number.NaN : (row % 5) + 1,
  );
  const consequence = Float64Array.from({ length: rows }, (_, row) => ((row * 3) % 5) + 1);
  const columns = new Map([
    ["likelihood", { kind: "number", values: likelihood }],
    ["consequence", { kind: "number", values: consequence }],
  ]);
  return { program: { laterals: { rows, columns } } as unknown as PlannedProgram, likelihood };
}

function panesOf(program: PlannedProgram) {
  const waiting: (() => void)[] = [];
  let drawn = 0;
  const panes = new LivePanes(
    null,
    () => program,
    () => drawn++,
    (error) => {
      throw error;
    },
    (work) => waiting.push(work),
  );
  const workAll = () => {
    for (let work = waiting.shift(); work !== undefined; work = waiting.shift()) work();
  };
  return { panes, workAll, waiting, drawn: () => drawn };
}

const whole = ({ laterals }: PlannedProgram) => {
  const values = (key: string) => (laterals.columns.get(key) as { values: Float64Array }).values;
  return { kind: "known", value: countRiskMatrix(values("likelihood"), values("consequence"), null) };
};

describe("the matrix of likelihood and consequence", () => {
  it("of a small city is there at once", () => {
    const { program } = programOf(400);
    const { panes, waiting } = panesOf(program);
    expect(panes.matrix(program)).toEqual(whole(program));
    expect(waiting).toEqual([]);
  });

  it("of a big one is counted between keys, once, and drawn when it is known", () => {
    const { program } = programOf(250_001);
    const { panes, workAll, waiting, drawn } = panesOf(program);
    expect(panes.matrix(program).kind).toBe("working");
    expect(panes.matrix(program).kind).toBe("working");
    expect(waiting.length).toBe(2);
    workAll();
    expect(drawn()).toBe(1);
    expect(panes.matrix(program)).toEqual(whole(program));
    expect(waiting).toEqual([]);
  });

  it("after a change stands as it was until it is counted again, also when changes overtake each other", () => {
    const { program, likelihood } = programOf(250_001);
    const { panes, workAll } = panesOf(program);
    panes.matrix(program);
    workAll();
    const before = panes.matrix(program);
    likelihood[0] = 5;
    panes.forget();
    expect(panes.matrix(program)).toEqual(before);
    likelihood[200_000] = 5;
    panes.forget();
    expect(panes.matrix(program)).toEqual(before);
    workAll();
    expect(panes.matrix(program)).toEqual(whole(program));
    expect(panes.matrix(program)).not.toEqual(before);
  });
});
