import { describe, expect, it } from "vitest";
import { openSheet, type SheetStreams } from "../../src/commands/open-sheet.ts";
import type { PlannedProgram } from "../../src/season/planned-program.ts";

describe("openSheet", () => {
  it("refuses a pipe with words, and touches neither stream", async () => {
    let said = "";
    const untouched = new Proxy({ isTTY: false } as unknown as NodeJS.WriteStream & NodeJS.ReadStream, {
      get: (stream, key) => {
        if (key === "isTTY") return stream.isTTY;
        throw new Error(`openSheet used ${String(key)}`);
      },
    });
    const streams = {
      stdin: untouched,
      stdout: untouched,
      stderr: { write: (text: string) => (said += text) },
    };
    const code = await openSheet(
      {} as PlannedProgram,
      streams as unknown as SheetStreams,
      {},
      { kind: "look", because: "" },
    );
    expect(code).toBe(2);
    expect(said).toBe(
      "The sheet needs a terminal for its input and output; neither may be a file or a pipe.\n",
    );
  });
});
