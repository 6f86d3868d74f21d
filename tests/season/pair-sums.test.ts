import { expect, it } from "vitest";
import { PairSums } from "../../src/season/pair-sums.ts";

it("each pair is summed, in the order in which the pairs were first met", () => {
  const sums = new PairSums();
  sums.add(2, 0, 5);
  sums.add(0, 7, 1);
  sums.add(2, 0, 6);
  sums.add(2, 7, 0);
  sums.add(0, 7, Number.NaN);
  expect([...sums]).toEqual([
    [2, 0, 11],
    [0, 7, Number.NaN],
    [2, 7, 0],
  ]);
});
