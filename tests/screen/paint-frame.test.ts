import { describe, expect, it } from "vitest";
import { paintFrame } from "../../src/screen/paint-frame.ts";

const inUpdate = (text: string) => `\x1b[?2026h${text}\x1b[?2026l`;

describe("paintFrame", () => {
  it("clears the screen only when what is on it is not known", () => {
    expect(paintFrame(null, ["ab", "c"], 4)).toBe(inUpdate("\x1b[2J\x1b[1;1Hab\x1b[K\x1b[2;1Hc\x1b[K"));
    expect(paintFrame(["x", "c"], ["ab", "c"], 4)).toBe(inUpdate("\x1b[1;1Hab\x1b[K"));
  });

  it("writes nothing when nothing changed", () => {
    expect(paintFrame(["ab", "c"], ["ab", "c"], 4)).toBe("");
  });

  it("does not erase the last cell of a full line, attributes and wide characters counted rightly", () => {
    expect(paintFrame(["x"], ["\x1b[7m日ab\x1b[27m"], 4)).toBe(inUpdate("\x1b[1;1H\x1b[7m日ab\x1b[27m"));
  });
});
