/**
 * The same bytes in pieces of one length. Because the cuts fall at the same places however the bytes arrive, whatever reads the pieces
 * cannot depend on how a disk or a decoder happened to cut them. A piece is good until the next one is asked for.
 */
export async function* bytePieces(
  chunks: AsyncIterable<Uint8Array>,
  length: number,
): AsyncGenerator<Uint8Array> {
  const held = new Uint8Array(length);
  let filled = 0;
  for await (const chunk of chunks) {
    for (let from = 0; from < chunk.length; ) {
      const part = chunk.subarray(from, from + length - filled);
      from += part.length;
      if (part.length === length) yield part;
      else {
        held.set(part, filled);
        filled += part.length;
        if (filled < length) continue;
        yield held;
        filled = 0;
      }
    }
  }
  if (filled > 0) yield held.subarray(0, filled);
}
