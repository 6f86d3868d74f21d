import { expect, it } from "vitest";
import { breakdownText } from "../../src/commands/breakdown-text.ts";
import { loadProgram } from "../../src/commands/load-program.ts";

it("counts each section as a liner: liners by wall are the liners that the bid pays for, in every district", async () => {
  const loaded = await loadProgram(new URL("../../sample-programs/quennock-falls", import.meta.url).pathname);
  if (!loaded.ok) throw new RangeError("the sample cannot be read");
  const { totals } = loaded.program;
  for (const { linersByWall, bidLines } of [...totals.districts, totals.program]) {
    const placed = [...linersByWall.values()].reduce((a, b) => a + b, 0);
    const paid = [...bidLines]
      .filter(([line]) => /^(sectional|full-length|connection|one-piece) liner/.test(line))
      .reduce((sum, [, hundredths]) => sum + hundredths / 100, 0);
    expect(placed).toBe(paid);
  }
  // The sample has laterals with several sections, or the count above would prove nothing.
  const sections = [...totals.program.bidLines]
    .filter(([line]) => line.startsWith("sectional"))
    .reduce((sum, [, hundredths]) => sum + hundredths / 100, 0);
  expect(sections).toBeGreaterThan(totals.program.byTreatment["sectional liner"]);
  const lines = breakdownText(loaded.program, 80).join("\n").split("\n");
  expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
});
