import fc from "fast-check";
import { expect, it } from "vitest";
import { ByteFinder } from "../../src/intake/byte-finder.ts";

it("finds the places that a search byte by byte finds, in text after text, whatever stood there before", () => {
  const finder = new ByteFinder();
  const byte = fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(10, 13, 44) },
    fc.integer({ min: 0, max: 255 }),
  );
  const text = fc.oneof(
    fc.uint8Array({ maxLength: 70 }),
    fc.array(byte, { maxLength: 70 }).map((bytes) => Uint8Array.from(bytes)),
    fc.integer({ min: 0, max: 5000 }).map((length) => new Uint8Array(length).fill(44)),
  );
  fc.assert(
    fc.property(text, byte, byte, byte, (bytes, a, b, c) => {
      const count = finder.find(bytes, a, b, c);
      const expected = Array.from(bytes.keys()).filter((at) => [a, b, c].includes(bytes[at]!));
      expect([...finder.places.subarray(0, count)]).toEqual([-1, ...expected]);
    }),
  );
});
