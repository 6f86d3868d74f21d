import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Activity, scheduleNetwork, wireNetwork } from "../../src/engineering/critical-path.ts";

/** PERT example of the PM Knowledge Center (pmknowledgecenter.be), table 1; expected times 5, 3, 1, 2, 3, 4. */
const published: readonly Timed[] = [
  { name: "A", duration: 5, after: [] },
  { name: "B", duration: 3, after: ["A"] },
  { name: "C", duration: 1, after: ["A"] },
  { name: "D", duration: 2, after: ["B"] },
  { name: "E", duration: 3, after: ["B", "C"] },
  { name: "F", duration: 4, after: ["D", "E"] },
];

interface Timed extends Activity {
  readonly duration: number;
}

function schedulePath(activities: readonly Timed[]) {
  const durations = activities.map(({ duration }) => duration);
  const { earliestFinish, latestFinish, total } = scheduleNetwork(wireNetwork(activities), durations);
  const scheduled = activities.map(({ name, duration }, i) => ({
    name,
    earliestStart: earliestFinish[i]! - duration,
    latestFinish: latestFinish[i]!,
    float: latestFinish[i]! - earliestFinish[i]!,
  }));
  return { total, activities: scheduled };
}

describe("the critical path", () => {
  it("of the published PERT example is A-B-E-F, 15", () => {
    const { total, activities } = schedulePath(published);
    expect(total).toBe(15);
    expect(activities.filter(({ float }) => float === 0).map(({ name }) => name)).toEqual([
      "A",
      "B",
      "E",
      "F",
    ]);
  });

  it("leaves C two and D one of float in it", () => {
    // By hand: F must start at 11, so E (3) at 8 and D (2) at 9. C ends at 6 and must at 8; D ends at 10 and must at 11.
    const { activities } = schedulePath(published);
    expect(activities.map(({ name, float }) => [name, float])).toEqual([
      ["A", 0],
      ["B", 0],
      ["C", 2],
      ["D", 1],
      ["E", 0],
      ["F", 0],
    ]);
    expect(activities.find(({ name }) => name === "E")).toMatchObject({ earliestStart: 8, latestFinish: 11 });
  });

  it("is the longest of all chains of activities, in any network and any order of listing", () => {
    const networks = fc
      .array(fc.record({ duration: fc.nat(50), after: fc.array(fc.nat(20), { maxLength: 3 }) }), {
        maxLength: 9,
      })
      .map((list) =>
        list.map(({ duration, after }, i) => ({
          name: `s${i}`,
          duration,
          // Only earlier ones, so there is no circle.
          after: i === 0 ? [] : [...new Set(after.map((n) => `s${n % i}`))],
        })),
      );
    fc.assert(
      fc.property(networks, (network) => {
        /** Longest chain ending in an activity, by going back along every way. */
        const longestTo = (name: string): number => {
          const { duration, after } = network.find((each) => each.name === name)!;
          return duration + Math.max(0, ...after.map(longestTo));
        };
        /** Longest chain of those that wait for an activity, by going on along every way. */
        const longestFrom = (name: string): number =>
          Math.max(
            0,
            ...network
              .filter(({ after }) => after.includes(name))
              .map((each) => each.duration + longestFrom(each.name)),
          );
        const longest = Math.max(0, ...network.map(({ name }) => longestTo(name)));
        const { total, activities } = schedulePath(network.toReversed());
        expect(total).toBe(longest);
        for (const { name, latestFinish, float } of activities) {
          expect(latestFinish).toBe(longest - longestFrom(name));
          expect(float).toBe(latestFinish - longestTo(name));
        }
      }),
    );
  });

  it("is refused for a circle, an unknown predecessor, a negative time and a name twice", () => {
    const step = (name: string, after: string[], duration = 1) => ({ name, duration, after });
    expect(() => schedulePath([step("a", ["b"]), step("b", ["a"])])).toThrow("a circle among a, b");
    expect(() => schedulePath([step("a", ["x"])])).toThrow("a waits for x");
    expect(() => schedulePath([step("a", [], -1)])).toThrow("takes -1");
    expect(() => schedulePath([step("a", []), step("a", [])])).toThrow("same name");
  });
});
