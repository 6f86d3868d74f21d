import { describe, expect, it } from "vitest";
import { seasonRunSchema } from "../../src/program/season-runs.ts";

const run = (treatment: string) => ({
  schema: 1,
  saved: { when: "2026-03-01T08:00:00Z", who: "R. Ames" },
  as_of: "2026-03-01",
  season: { crews: 2 },
  ended: "proven",
  worth: 1000,
  bound: 1010,
  gap: 0.01,
  works: 100_000,
  mobilization: 10_000,
  chosen: [{ lateral: "00415", treatment, cost: 221_939 }],
});

describe("a saved season", () => {
  // Found by the soak: input 797,638 of seed 20261125 was taken, and crashed the plan.
  it("with a treatment that the program does not know is refused, not planned", () => {
    expect(seasonRunSchema.safeParse(run("sectional liner")).success).toBe(true);
    const refused = seasonRunSchema.safeParse(run("nal liner"));
    expect(refused.success).toBe(false);
    expect(refused.error?.issues.map(({ path, message }) => [path.join("."), message])).toEqual([
      ["chosen.0.treatment", "a treatment of this program"],
    ]);
  });
});
