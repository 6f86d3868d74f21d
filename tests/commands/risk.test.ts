import { describe, expect, it } from "vitest";
import { type CommandIo, EXIT } from "../../src/commands/command-io.ts";
import { riskOf } from "../../src/commands/risk.ts";

const samples = new URL("../../sample-programs/", import.meta.url).pathname;

async function risk(name: string, options: { readonly json?: boolean } = {}) {
  let out = "";
  const io: CommandIo = {
    out: (text) => {
      out += text;
    },
    err: () => {},
    now: () => "2026-03-02T08:00:00.000Z",
    who: "a tester",
  };
  const code = await riskOf(`${samples}${name}`, options, io);
  return { code, out };
}

describe("wyeplan risk", () => {
  it("counts every lateral once in the matrix of likelihood and consequence", async () => {
    const { code, out } = await risk("quennock-falls");
    expect([EXIT.done, EXIT.doneWithProblems]).toContain(code);
    const cells = out
      .split("\n")
      .filter((line) => /^[1-5]\s+\d+(\s+\d+){4}$/.test(line))
      .flatMap((line) => line.trim().split(/\s+/).slice(1).map(Number));
    expect(cells).toHaveLength(25);
    expect(cells.reduce((a, b) => a + b)).toBe(400);
  });

  it("says that scores are no probabilities, what is assumed, and what a chain cannot say", async () => {
    const { out } = await risk("quennock-falls");
    expect(out).toContain("they are not probabilities");
    expect(out).toContain("failure costs are assumptions");
    expect(out).toContain("no better than chance for a single");
  });

  it("gives the same answer twice: its worlds are seeded", async () => {
    expect((await risk("quennock-falls", { json: true })).out).toBe(
      (await risk("quennock-falls", { json: true })).out,
    );
  });

  it("works out no money in a currency its table does not have", async () => {
    const { out } = await risk("kaltwendel");
    expect(out).toMatch(/Money at risk: not computed/);
  });
});
