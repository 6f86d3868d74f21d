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

  it("says why it ends when what makes a member fails", async () => {
    const failing = (function* (): Generator<Buffer> {
      yield Buffer.from("one");
      throw new RangeError("row 7 is no row");
    })();
    const { stream } = sink();
    await expect(new ZipStream(stream, 1).add("a", failing)).rejects.toThrow("row 7 is no row");
  });
});
