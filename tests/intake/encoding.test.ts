import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeText } from "../../src/intake/decode.ts";
import { findEncoding } from "../../src/intake/encoding.ts";

const utf8 = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, little: boolean, mark = true) => {
  const codes = [...(mark ? "\ufeff" : "")].concat(text.split("")).map((c) => c.charCodeAt(0));
  return Uint8Array.from(
    codes.flatMap((code) => (little ? [code & 255, code >> 8] : [code >> 8, code & 255])),
  );
};

async function* cutInto(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let i = 0; i < bytes.length; i += size) yield bytes.subarray(i, i + size);
}

async function decoded(bytes: Uint8Array, encoding: Parameters<typeof decodeText>[1], size: number) {
  let text = "";
  for await (const part of decodeText(cutInto(bytes, size), encoding)) text += part;
  return text;
}

describe("finding the encoding", () => {
  it("knows the three byte order marks", () => {
    expect(findEncoding(utf8("\ufeffid,diam")).encoding).toBe("utf-8");
    expect(findEncoding(utf16("id,diam", true)).encoding).toBe("utf-16le");
    expect(findEncoding(utf16("id,diam", false)).encoding).toBe("utf-16be");
  });

  it("knows UTF-16 without a mark by its zeros, and says so", () => {
    const little = findEncoding(utf16("id,diam\n1,4\n", true, false));
    expect(little.encoding).toBe("utf-16le");
    expect(little.note).toContain("no byte order mark");
    expect(findEncoding(utf16("id,diam\n1,4\n", false, false)).encoding).toBe("utf-16be");
  });

  it("takes valid UTF-8 as UTF-8, also when the sample cuts a character in two", () => {
    expect(findEncoding(utf8("Länge")).encoding).toBe("utf-8");
    expect(findEncoding(utf8("Lä").subarray(0, 2)).encoding).toBe("utf-8");
  });

  it("takes bytes that are not UTF-8 as Windows-1252, and says so", () => {
    const found = findEncoding(Uint8Array.from([0x4c, 0xe4, 0x6e, 0x67, 0x65])); // L ä n g e
    expect(found.encoding).toBe("windows-1252");
    expect(found.note).toContain("Windows-1252");
  });

  it("takes an empty file as UTF-8", () => {
    expect(findEncoding(new Uint8Array(0))).toEqual({ encoding: "utf-8", note: null });
  });
});

describe("decoding", () => {
  it("drops the byte order mark of UTF-8 and UTF-16", async () => {
    for (const size of [1, 2, 3, 64]) {
      expect(await decoded(utf8("\ufeffid"), "utf-8", size)).toBe("id");
      expect(await decoded(utf16("id", true), "utf-16le", size)).toBe("id");
      expect(await decoded(utf16("id", false), "utf-16be", size)).toBe("id");
    }
  });

  it("reads the dashes and curly quotes of Windows-1252", async () => {
    // Bytes from the WHATWG index of windows-1252: 93 “, 94 ”, 96 –, 97 —, 80 €, E9 é.
    const bytes = Uint8Array.from([0x93, 0x41, 0x94, 0x96, 0x97, 0x80, 0xe9]);
    expect(await decoded(bytes, "windows-1252", 64)).toBe("“A”–—€é");
    expect(await decoded(bytes, "windows-1252", 1)).toBe("“A”–—€é");
  });

  it("gives the same text wherever the bytes are cut", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.string({ unit: "grapheme" }),
        fc.integer({ min: 1, max: 7 }),
        async (text, size) => {
          const plain = text.replace(/^\ufeff+/, "");
          expect(await decoded(utf8(plain), "utf-8", size)).toBe(plain);
          expect(await decoded(utf16(plain, true), "utf-16le", size)).toBe(plain);
        },
      ),
    );
  });
});
