import { createHash } from "node:crypto";
import { Writable } from "node:stream";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readZip, unpack } from "../../src/workbook/zip-file.ts";
import { ZipStream } from "../../src/workbook/zip-stream.ts";

/** Takes what is written, each chunk a turn later. */
function sink(): { readonly stream: Writable; readonly bytes: () => Buffer } {
  const chunks: Buffer[] = [];
  const stream = new Writable({
    highWaterMark: 100,
    write: (chunk: Buffer, _encoding, done) => {
      chunks.push(Buffer.from(chunk));
      setImmediate(done);
    },
  });
  return { stream, bytes: () => Buffer.concat(chunks) };
}

async function zipOf(members: readonly (readonly [string, readonly Buffer[]])[]): Promise<Buffer> {
  const { stream, bytes } = sink();
  const zip = new ZipStream(stream, 1);
  const done = new Promise((resolve) => stream.on("finish", resolve));
  for (const [name, content] of members) await zip.add(name, content);
  await zip.end();
  await done;
  return bytes();
}

describe("a zip file written as it is made", () => {
  it("is read back, member for member and byte for byte, by the reader that checks sizes and sums", async () => {
    const piece = fc.uint8Array({ maxLength: 3000 }).map((bytes) => Buffer.from(bytes));
    const contents = fc.array(fc.array(piece, { maxLength: 5 }), { minLength: 1, maxLength: 4 });
    await fc.assert(
      fc.asyncProperty(contents, async (all) => {
        const members = readZip(await zipOf(all.map((content, i) => [`part ${i} ü.xml`, content])));
        expect(members.map(({ name }) => name)).toEqual(all.map((_, i) => `part ${i} ü.xml`));
        for (const [i, member] of members.entries()) expect(unpack(member)).toEqual(Buffer.concat(all[i]!));
      }),
      { numRuns: 40 },
    );
  });

  it("asks for no more of a member than it can pack while nothing is taken", async () => {
    let asked = 0;
    function* noise(): Generator<Buffer> {
      for (let i = 0; i < 400; i++) {
        asked = i + 1;
        // Hardly to be packed: digits of squares.
        yield Buffer.from(
          Array.from({ length: 20_000 }, (_, j) => String(Math.sin(i * 20_000 + j))).join(""),
        );
      }
    }
    const stuck = new Writable({ write: () => {} });
    const adding = new ZipStream(stuck, 1).add("noise", noise());
    await new Promise((resolve) => setTimeout(resolve, 600));
    expect(asked).toBeGreaterThan(1);
    expect(asked).toBeLessThan(40);
    stuck.destroy();
    await expect(adding).rejects.toThrow();
  });

  it("ends in words, and asks for no more, where a part, the file or its directory is longer than the form can say", async () => {
    let asked = 0;
    const pieces = function* () {
      for (asked = 0; asked < 1000; asked++) yield Buffer.alloc(1000, 65);
    };
    const { stream: one } = sink();
    const part = new ZipStream(one, 1, { bytes: 5_000, members: 9 }).add("sheet1.xml", pieces());
    await expect(part).rejects.toThrow(/more than 5,000 bytes of sheet1\.xml.*Nothing was written/);
    expect(asked).toBe(5);

    // Bytes that cannot be packed: parts that fit alone, and not together.
    const noise = (seed: number) =>
      Buffer.concat(
        Array.from({ length: 11 }, (_, i) => createHash("sha512").update(`${seed} ${i}`).digest()),
      ).subarray(0, 700);
    const { stream: two } = sink();
    const whole = new ZipStream(two, 1, { bytes: 1_000, members: 9 });
    await whole.add("a", [noise(1)]);
    await expect(whole.add("b", [noise(2)])).rejects.toThrow(/more than 1,000 bytes, with b/);

    const { stream: three } = sink();
    const full = new ZipStream(three, 1, { bytes: 770, members: 9 });
    await full.add("a", [noise(1).subarray(0, 680)]);
    await expect(full.end()).rejects.toThrow(/more than 770 bytes, with its directory/);

    const { stream: four } = sink();
    const many = new ZipStream(four, 1, { bytes: 1_000, members: 2 });
    await many.add("a", []);
    await many.add("b", []);
    await expect(many.add("c", [])).rejects.toThrow("more than 2 parts");
  });

  it("says why it ends when what makes a member fails", async () => {
    const failing = (function* (): Generator<Buffer> {
      yield Buffer.from("one");
      throw new RangeError("row 7 is no row");
    })();
    const { stream } = sink();
    await expect(new ZipStream(stream, 1).add("a", failing)).rejects.toThrow("row 7 is no row");
  });
});
