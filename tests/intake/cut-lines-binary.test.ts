import { readFileSync, writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import assembler from "wabt";

const folder = new URL("../../src/intake/", import.meta.url);
const kept = new URL("cut-lines-binary.ts", folder);

it("is what the assembler makes of its source, letter by letter (UPDATE_BINARY=1 writes it anew)", async () => {
  const { parseWat } = await assembler();
  const source = readFileSync(new URL("cut-lines.wat", folder), "utf8");
  const { buffer } = parseWat("cut-lines.wat", source, { simd: true }).toBinary({});
  const text = [
    "/** `cut-lines.wat`, assembled: a test holds it to its source, and writes it. */",
    "export const CUT_LINES =",
    `  "${Buffer.from(buffer).toString("base64")}";\n`,
  ].join("\n");
  if (process.env["UPDATE_BINARY"] === "1") writeFileSync(kept, text);
  expect(readFileSync(kept, "utf8")).toBe(text);
});
