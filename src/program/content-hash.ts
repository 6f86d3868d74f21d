import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";

/** SHA-256 of a text or of bytes, in hexadecimal: two contents with the same one are the same. */
export const hashOf = (content: string | Uint8Array): string =>
  createHash("sha256").update(content).digest("hex");

/** SHA-256 of a file's bytes, read piece by piece. */
export async function hashFile(path: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(path)) hash.update(chunk as Uint8Array);
  return hash.digest("hex");
}
