import { execFileSync } from "node:child_process";
import { expect, it } from "vitest";
import { asTyped } from "../../src/program/as-typed.ts";

it("is a name that a shell takes as one word and as it is", () => {
  expect(asTyped("my-city/läufe.csv")).toBe("my-city/läufe.csv");
  expect(asTyped("neue Läufe.csv")).toBe('"neue Läufe.csv"');
  for (const name of ["a b", "it's", "$HOME", 'say "a"', "a;b", "x`y", "back\\slash it's", "(2)", "a&b", "*"])
    expect(execFileSync("sh", ["-c", `printf %s ${asTyped(name)}`], { encoding: "utf8" }), name).toBe(name);
});
