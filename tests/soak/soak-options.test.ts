import { describe, expect, it } from "vitest";
import { readSoakOptions, SOAK_USAGE } from "./soak-options.ts";

const refusal = (...args: string[]): string => {
  const asked = readSoakOptions(args);
  return asked.kind === "refused" ? asked.because : `not refused: ${asked.kind}`;
};

describe("the options of a soak", () => {
  it("are a whole soak of an hour when nothing is said", () => {
    expect(readSoakOptions([])).toEqual({
      kind: "run",
      options: {
        kills: 1_000,
        sheetKills: 1_000,
        inputs: 1_000_000,
        minutes: 60,
        seed: 20_261_125,
        state: ".soak-state.json",
        input: null,
        keep: null,
      },
    });
  });

  it("may be half a minute, and a single input to feed again", () => {
    expect(readSoakOptions(["--minutes", "0.5", "--input", "378477", "--keep", "bytes"])).toMatchObject({
      kind: "run",
      options: { minutes: 0.5, input: 378_477, keep: "bytes" },
    });
  });

  it("are refused in words when unknown, without a value, or no number", () => {
    expect(refusal("--hours", "2")).toBe("Unknown option '--hours'.");
    expect(refusal("12")).toMatch(/^Unexpected argument '12'\.$/);
    expect(refusal("--kills")).toMatch(/^Option '--kills <value>' argument missing\.$/);
    expect(refusal("--kills", "1.5", "--minutes", "soon")).toBe(
      '--kills: found "1.5", expected a whole number from 0 on.\n--minutes: found "soon", expected a number from 0 on.',
    );
    expect(refusal("--kills=-3")).toContain('found "-3"');
    expect(refusal("--inputs", "")).toContain('found ""');
    expect(refusal("--keep", "bytes")).toContain("without --input");
  });

  it("are all in the usage that help prints", () => {
    expect(readSoakOptions(["--help"])).toEqual({ kind: "help" });
    for (const name of ["kills", "sheet-kills", "inputs", "minutes", "seed", "state", "input", "keep"])
      expect(SOAK_USAGE).toContain(`--${name} `);
  });
});
