import fc from "fast-check";
import { expect, it } from "vitest";
import { hashOf, TextIndex } from "../../src/sheet/text-index.ts";

it("finds texts as a Map does, whatever their letters and in whatever order they come", () => {
  const text = fc.oneof(
    fc.string({ unit: "grapheme", maxLength: 8 }),
    fc.constantFrom("", "00417", "417", "é", "雨", "a", "aa"),
    fc.integer({ min: 0, max: 40 }).map(String),
  );
  fc.assert(
    fc.property(fc.array(text, { maxLength: 60 }), text, (texts, other) => {
      const index = new TextIndex();
      const map = new Map<string, number>();
      for (const each of texts) {
        if (!map.has(each)) map.set(each, map.size);
        expect(index.add(each)).toBe(map.get(each));
      }
      expect(index.get(other)).toBe(map.get(other));
      expect(index.has(other)).toBe(map.has(other));
      expect(index.size).toBe(map.size);
      expect([...index.keys()]).toEqual([...map.keys()]);
      // Wherever it is begun to look.
      for (const each of [...texts, other])
        for (let after = -1; after <= index.size; after++) {
          const bytes = Buffer.from(`,${each},`);
          expect(index.findAfter(after, bytes, 1, bytes.length - 1)).toBe(map.get(each) ?? -1);
        }
    }),
    { numRuns: 40 },
  );
});

it("keeps apart as many ids as a large city has, with or without knowing how many", () => {
  const rows = 150_000; // beyond the first room several times over, and beyond the size whose columns are not copied
  for (const expected of [0, rows, rows * 2]) {
    const index = new TextIndex(() => expected);
    const wrong: number[] = [];
    for (let row = 0; row < rows; row++) if (index.add(String(row + 100)) !== row) wrong.push(row);
    for (let row = 0; row < rows; row++) if (index.get(String(row + 100)) !== row) wrong.push(row);
    expect(wrong).toEqual([]);
    expect(index.get("99")).toBeUndefined();
    expect([...index.keys()].at(-1)).toBe(String(rows + 99));
  }
});

it("finds ids that are counted up within a few places, whatever the factor of the run", () => {
  const PLACES = 2 ** 17;
  const ids = Array.from({ length: PLACES / 4 }, (_, i) => Buffer.from(String(i + 1).padStart(5, "0")));
  /** Places looked at for an id, on average, when all are put in: at the first free one from where each belongs. */
  const looks = (factor: number): number => {
    const taken = new Uint8Array(PLACES);
    let count = 0;
    for (const id of ids) {
      let place = hashOf(id, 0, id.length, factor) & (PLACES - 1);
      for (count++; taken[place] === 1; count++) place = (place + 1) & (PLACES - 1);
      taken[place] = 1;
    }
    return count / ids.length;
  };
  // Tens lie side by side and meet other tens, so 2.6 with a million ids and two hundred factors; alone each would take 1.2. Drawn evenly, as a
  // run draws its own: the least factors (5, 13), one in a hundred million, are bad ones.
  fc.assert(
    fc.property(fc.noBias(fc.integer()), (any) => {
      expect(looks((any & ~7) | 5)).toBeLessThan(4);
    }),
  );
});
