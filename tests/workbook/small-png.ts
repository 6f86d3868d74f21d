import { crc32, deflateSync } from "node:zlib";

/** A grey picture as PNG (ISO/IEC 15948): signature, then chunks of length, name, content and checksum. */
export function smallPng(width: number, height: number): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  // Eight bits a pixel, grey; packed, filtered and laid out in the only ways there are.
  header[8] = 8;
  const rows = Buffer.alloc((width + 1) * height, 0x7f);
  for (let row = 0; row < height; row++) rows[row * (width + 1)] = 0;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header),
    chunk("IDAT", deflateSync(rows)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

function chunk(name: string, content: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, "latin1"), content]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(content.length);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
}
