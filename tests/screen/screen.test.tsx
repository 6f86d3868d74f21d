import { cleanup, render } from "ink-testing-library";
import { afterEach, describe, expect, it } from "vitest";
import { drawFrame } from "../../src/screen/draw-frame.ts";
import { paintLine } from "../../src/screen/line.ts";
import { Screen } from "../../src/screen/screen.tsx";
import { startSession } from "../../src/screen/session.ts";
import { numbered, plainSheet } from "./plain-sheet.ts";

afterEach(cleanup);

describe("Screen", () => {
  const size = { columns: 46, rows: 9 };
  const sheet = plainSheet([...numbered(1), ["L2", "2", "川端 e\u0301", "", "3"]]);
  const lines = (attributes: boolean) =>
    drawFrame(startSession(sheet), sheet, size).map((line) => paintLine(line, attributes));

  it("draws the lines it is given, at their places, wide characters and all", () => {
    expect(render(<Screen lines={lines(false)} size={size} />).lastFrame()).toBe(
      [
        "Plain town   by Rank                    1 of 2",
        "  Lateral  Rank  District    Length      Cost",
        "              ▲                (ft)",
        ">[L001   ]    1  Harbour          0      1000",
        "  L2          2  川端 é        ·            3",
        "  all 2                           0      1003",
        "All 2 laterals   cost USD 1.00",
        "Lateral: L001   the city's: What Lateral is.",
        "? help   q leave   Enter decide",
      ].join("\n"),
    );
  });

  it("draws other lines in place of the first", () => {
    const { rerender, lastFrame } = render(<Screen lines={lines(true)} size={size} />);
    expect(lastFrame()).toContain("\x1b[7m[L001   ]\x1b[27m");
    rerender(<Screen lines={["one", "two"]} size={size} />);
    expect(lastFrame()!.trimEnd()).toBe("one\ntwo");
  });
});
