import { CUT_LINES } from "./cut-lines-binary.ts";

const LF = 10;
const CR = 13;

/** Where the cells of lines are. Good until the next lines are cut. */
export interface CutLines {
  readonly rows: number;
  /** Cell i of row r is `bytes[bounds[firsts[r] + i] + 1 … bounds[firsts[r] + i + 1])`, up to the one that ends at `bounds[lasts[r]]`. */
  readonly bounds: Int32Array;
  readonly firsts: Int32Array;
  readonly lasts: Int32Array;
}

/** @param bytes of lines that all end, with CR LF, LF or CR, and have no quote marks */
export type LineCutter = (bytes: Uint8Array, delimiter: number) => CutLines;

/**
 * A cutter with room of its own. It looks at sixteen bytes at once, or where it cannot, at one after another.
 *
 * @param engine what runs it; null for none
 */
export function lineCutter(engine: Engine | null = globalThis.WebAssembly ?? null): LineCutter {
  let room = openRoom(2 * PAGE, engine);
  let byByte: LineCutter | null = null;
  return (bytes, delimiter) => {
    const { length } = bytes;
    // Memory anew, for were it to grow, the engine would distrust all arrays that it has compiled code for.
    if (room !== null && length > room.most) room = openRoom(4 * Math.ceil(length / 2), engine);
    if (room === null) {
      byByte ??= cutterByByte();
      return byByte(bytes, delimiter);
    }
    const { text, bounds, firsts, lasts, cut } = room;
    text.set(bytes);
    text.fill(0, length, length + BEYOND);
    const rows = cut(length, delimiter, bounds.byteOffset, firsts.byteOffset, lasts.byteOffset);
    return { rows, bounds, firsts, lasts };
  };
}

type Engine = Pick<typeof WebAssembly, "Module" | "Memory" | "Instance">;

/** Bytes after the text that the code looks at too. */
const BEYOND = 64;
const PAGE = 65_536;

type Cut = (end: number, delimiter: number, bounds: number, firsts: number, lasts: number) => number;

/**
 * Room for so many bytes of lines, and the code of `cut-lines.wat` over it, which takes a fifth of the time: of the two files of a million laterals and a
 * million surveys, 335 MB, 0.1 s and not 0.5. Null where the engine runs none (`--jitless`), the processor has no instructions for
 * sixteen bytes, or the process may not have the 10 GB of addresses that the engine sets aside for any such memory, however small (`ulimit -v`).
 */
function openRoom(most: number, engine: Engine | null) {
  if (engine === null) return null;
  const [text, places] = [most + BEYOND, (most + 1) * Int32Array.BYTES_PER_ELEMENT];
  try {
    const module = new engine.Module(Buffer.from(CUT_LINES, "base64"));
    const memory = new engine.Memory({ initial: Math.ceil((text + 3 * places) / PAGE) });
    const { exports } = new engine.Instance(module, { lines: { memory } });
    const list = (i: number) => new Int32Array(memory.buffer, text + i * places, most + 1);
    return {
      most,
      text: new Uint8Array(memory.buffer, 0, text),
      bounds: list(0),
      firsts: list(1),
      lasts: list(2),
      cut: exports["cut"] as Cut,
    };
  } catch {
    return null;
  }
}

/** The same byte by byte, the LF or CR that ends a line being a bound twice. */
export function cutterByByte(): LineCutter {
  let most = 0;
  let bounds = new Int32Array(0);
  let firsts = bounds;
  let lasts = bounds;
  return (bytes, delimiter) => {
    if (bytes.length > most) {
      most = 2 * bytes.length;
      // A byte is at most one bound and, where it ends a line, the beginning of the next row.
      bounds = new Int32Array(2 * most + 1);
      firsts = new Int32Array(most);
      lasts = new Int32Array(most);
    }
    return { rows: cutLines(bytes, delimiter, { bounds, firsts, lasts }), bounds, firsts, lasts };
  };
}

function cutLines(
  bytes: Uint8Array,
  delimiter: number,
  { bounds, firsts, lasts }: Omit<CutLines, "rows">,
): number {
  let rows = 0;
  let next = 0;
  for (let at = 0; at < bytes.length; at++) {
    firsts[rows] = next;
    bounds[next++] = at - 1;
    for (; ; at++) {
      const byte = bytes[at]!;
      if (byte !== delimiter && byte !== LF && byte !== CR) continue;
      bounds[next++] = at;
      if (byte !== delimiter) break;
    }
    lasts[rows++] = next - 1;
    if (bytes[at] === CR && bytes[at + 1] === LF) at++;
  }
  return rows;
}
