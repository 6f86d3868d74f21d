import { expect, it } from "vitest";
import { firstOf } from "../../src/quantity/first-of.ts";

const names = (count: number) => Array.from({ length: count }, (_, i) => `A${i + 1}`);

it("names are all told as far as they are as many as are shown, and of more the rest is counted", () => {
  expect(firstOf([], 2)).toBe("");
  expect(firstOf(names(2), 2)).toBe("A1, A2");
  expect(firstOf(names(3), 2)).toBe("A1, A2 and 1 more");
  expect(firstOf(names(1206), 2, "; ")).toBe("A1; A2 and 1,204 more");
});
