const BYTE_ORDER_MARK = 0xfeff;

/**
 * The same text in pieces of one length, every line end (CR LF, LF or CR, also inside quoted cells) as LF, without a
 * byte order mark. Because the cuts fall at the same places however the text arrives, whatever reads the pieces
 * cannot depend on how a disk or a decoder happened to cut them.
 */
export async function* textPieces(chunks: AsyncIterable<string>, length: number): AsyncGenerator<string> {
  let held = "";
  let atStart = true;
  let afterReturn = false;
  for await (const chunk of chunks) {
    if (chunk === "") continue;
    let text = chunk;
    if (atStart && text.charCodeAt(0) === BYTE_ORDER_MARK) text = text.slice(1);
    atStart = false;
    // The LF of a CR LF that was cut in two: its CR has become the line end already.
    if (afterReturn && text.startsWith("\n")) text = text.slice(1);
    afterReturn = chunk.endsWith("\r");
    if (text.includes("\r")) text = text.replace(/\r\n?/g, "\n");
    held += text;
    if (held.length < length) continue;
    let start = 0;
    for (; held.length - start >= length; start += length) yield held.slice(start, start + length);
    held = held.slice(start);
  }
  if (held !== "") yield held;
}
