import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { afterAll, describe, expect, it } from "vitest";
import { bytesOf } from "../../src/commands/city-text.ts";

const folder = await mkdtemp(join(tmpdir(), "wyeplan-bytes-"));
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Four pieces and a bit, no two of them alike. */
const content = Buffer.alloc(4.3 * 2 ** 20);
for (let i = 0; i < content.length; i++) content[i] = (i + (i >> 20)) % 251;
const file = join(folder, "city.csv");
await writeFile(file, content);

describe("the bytes of a file", () => {
  it("come in order, and each piece stays as it is while the next is read", async () => {
    const pieces: Buffer[] = [];
    const told: number[] = [];
    for await (const piece of bytesOf(file, (bytes) => told.push(bytes))) {
      // Long enough for the next piece to have been read.
      await setTimeout(20);
      pieces.push(Buffer.from(piece));
    }
    expect(pieces.length).toBeGreaterThan(4);
    expect(Buffer.concat(pieces).equals(content)).toBe(true);
    expect(told).toEqual(pieces.map(({ length }) => length));
  });

  it("are none of an empty file", async () => {
    const empty = join(folder, "empty.csv");
    await writeFile(empty, "");
    expect((await bytesOf(empty).next()).done).toBe(true);
  });

  it("may be left before they are all read", async () => {
    for await (const piece of bytesOf(file)) {
      expect(piece[0]).toBe(content[0]);
      break;
    }
    // The file was closed and can be taken away; what was being read bothers nobody.
    await rm(file);
    await setTimeout(20);
  });

  it("that cannot be read are said to whoever asks for the first", async () => {
    await expect(bytesOf(folder).next()).rejects.toThrow("EISDIR");
  });
});
