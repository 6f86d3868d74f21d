import type { CityFile } from "../columns/city-file.ts";

export type Encoding = CityFile<string>["encoding"];

export interface EncodingFound {
  readonly encoding: Encoding;
  /** What a person should know about it; null when it is plain. */
  readonly note: string | null;
}

/**
 * Finds the encoding of a file from its first bytes: a byte order mark; else UTF-16 when every second byte is
 * mostly zero, as in any text of Latin letters; else UTF-8 when the bytes are valid UTF-8 (a last character may be cut
 * off); else Windows-1252. Holds for the sample only: a file whose first odd byte comes later is read as UTF-8 and
 * its unreadable characters become a problem then.
 */
export function findEncoding(sample: Uint8Array): EncodingFound {
  if (sample[0] === 0xef && sample[1] === 0xbb && sample[2] === 0xbf)
    return { encoding: "utf-8", note: null };
  if (sample[0] === 0xff && sample[1] === 0xfe) return { encoding: "utf-16le", note: null };
  if (sample[0] === 0xfe && sample[1] === 0xff) return { encoding: "utf-16be", note: null };
  const zeros = [0, 0];
  for (let i = 0; i < sample.length; i++) if (sample[i] === 0) zeros[i % 2] = (zeros[i % 2] ?? 0) + 1;
  const most = sample.length / 2 / 2;
  const [even = 0, odd = 0] = zeros;
  if (odd > most && even <= most)
    return { encoding: "utf-16le", note: "Read as UTF-16 although it has no byte order mark." };
  if (even > most && odd <= most)
    return { encoding: "utf-16be", note: "Read as UTF-16 although it has no byte order mark." };
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(sample, { stream: true });
    return { encoding: "utf-8", note: null };
  } catch {
    return { encoding: "windows-1252", note: "Not UTF-8: read as Windows-1252." };
  }
}
