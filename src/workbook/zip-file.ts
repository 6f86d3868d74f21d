import { crc32, deflateRawSync, inflateRawSync } from "node:zlib";
import { showCount } from "../quantity/show-quantity.ts";
import { Unreadable } from "./unreadable.ts";

/*
 * Workbooks come back from strangers, so the zip file is read here, within stated bounds, before anything looks inside.
 * Source of the layout: PKWARE's APPNOTE.TXT 6.3, sections 4.3 (records) and 4.4 (fields).
 */

/** One file within the zip file, still packed. */
export interface ZipMember {
  readonly name: string;
  readonly method: 0 | 8;
  readonly packed: Buffer;
  /** Bytes unpacked, as the file says. */
  readonly size: number;
  readonly crc: number;
  readonly time: number;
}

/** Bounds of a workbook that is read. Ours: a bid book of 50,000 laterals has 15 members and 60 MB unpacked. */
export const ZIP_BOUNDS = {
  bytes: 32 << 20,
  members: 2_000,
  unpacked: 160 << 20,
  /** Unpacked over packed, of members over a megabyte: sheets come to 5 to 40, a bomb to 1,000. */
  ratio: 200,
  ratioFrom: 1 << 20,
} as const;

const END = 0x06054b50;
const ENTRY = 0x02014b50;
const LOCAL = 0x04034b50;
/** The end record is within its longest comment of the end of the file. */
const LONGEST_END = 22 + 0xffff;

const damaged = (found: string): Unreadable =>
  new Unreadable(found, "a whole xlsx file", "Ask the sender for the file again.");
const tooMuch = (found: string, most: string): Unreadable =>
  new Unreadable(found, most, "Nothing of it was unpacked. Ask the sender for the workbook alone.");

/**
 * The members of a zip file, in the order of its directory.
 *
 * @throws Unreadable for anything but a plain, whole file within the bounds
 */
export function readZip(bytes: Buffer): readonly ZipMember[] {
  if (bytes.length > ZIP_BOUNDS.bytes)
    throw tooMuch(
      `${showCount(bytes.length)} bytes`,
      `a workbook of ${showCount(ZIP_BOUNDS.bytes)} bytes at most`,
    );
  const start = bytes.subarray(0, 4).toString("latin1");
  if (start === "\xd0\xcf\x11\xe0")
    throw new Unreadable(
      "a file in an older form, or protected by a password",
      "an xlsx file without a password",
      "Ask for the file saved as xlsx, without a password.",
    );
  const end = endRecord(bytes);
  const count = bytes.readUInt16LE(end + 10);
  const directory = bytes.readUInt32LE(end + 16);
  const directorySize = bytes.readUInt32LE(end + 12);
  if (count === 0xffff || directory === 0xffffffff) throw damaged("a zip file in the form for huge files");
  if (count > ZIP_BOUNDS.members)
    throw tooMuch(`${showCount(count)} files within the file`, `${showCount(ZIP_BOUNDS.members)} at most`);
  if (directory + directorySize > end) throw damaged("a directory that is cut off");

  const members: ZipMember[] = [];
  const spans: { readonly from: number; readonly to: number }[] = [];
  let unpacked = 0;
  let at = directory;
  for (let i = 0; i < count; i++) {
    if (at + 46 > end || bytes.readUInt32LE(at) !== ENTRY) throw damaged("a directory with a damaged entry");
    const lengths = [28, 30, 32].map((field) => bytes.readUInt16LE(at + field));
    const next = at + 46 + lengths[0]! + lengths[1]! + lengths[2]!;
    if (next > end) throw damaged("a directory with a damaged entry");
    const name = bytes.toString("utf8", at + 46, at + 46 + lengths[0]!);
    const member = memberAt(bytes, at, name, directory);
    spans.push(member.span);
    members.push(member.member);
    unpacked += member.member.size;
    if (unpacked > ZIP_BOUNDS.unpacked)
      throw tooMuch(`more than ${showCount(ZIP_BOUNDS.unpacked)} bytes when unpacked`, "less");
    at = next;
  }
  if (new Set(members.map(({ name }) => name.toLowerCase())).size !== members.length)
    throw damaged("two files of the same name within the file");
  const inOrder = spans.toSorted((a, b) => a.from - b.from);
  if (inOrder.some(({ from }, i) => i > 0 && from < inOrder[i - 1]!.to))
    throw damaged("files that lie over one another within the file");
  return members;
}

function endRecord(bytes: Buffer): number {
  const earliest = Math.max(0, bytes.length - LONGEST_END);
  for (let at = bytes.length - 22; at >= earliest; at--) if (bytes.readUInt32LE(at) === END) return at;
  throw damaged(bytes.length === 0 ? "an empty file" : "no zip file, or one that is cut off");
}

function memberAt(bytes: Buffer, entry: number, name: string, directory: number) {
  const flags = bytes.readUInt16LE(entry + 8);
  const method = bytes.readUInt16LE(entry + 10);
  const [crc, packedSize, size, local] = [16, 20, 24, 42].map((field) => bytes.readUInt32LE(entry + field));
  if (name === "" || /^[/\\]|\\|\0|(^|\/)\.\.(\/|$)/.test(name))
    throw damaged(`a file called ${JSON.stringify(name)} within the file`);
  if ((flags & 1) !== 0) throw damaged("a file within the file that is encrypted");
  if (method !== 0 && method !== 8) throw damaged(`${name} packed in a way spreadsheets do not use`);
  if (size! > ZIP_BOUNDS.ratioFrom && size! > ZIP_BOUNDS.ratio * Math.max(1, packedSize!))
    throw tooMuch(
      `${name} that unpacks to ${Math.round(size! / Math.max(1, packedSize!))} times its size`,
      `${ZIP_BOUNDS.ratio} times at most`,
    );
  if (local! + 30 > directory || bytes.readUInt32LE(local!) !== LOCAL)
    throw damaged(`${name} where nothing is`);
  const nameLength = bytes.readUInt16LE(local! + 26);
  const start = local! + 30 + nameLength + bytes.readUInt16LE(local! + 28);
  if (start + packedSize! > directory) throw damaged(`${name} that is cut off`);
  if (bytes.toString("utf8", local! + 30, local! + 30 + nameLength) !== name)
    throw damaged(`${name} under two names`);
  const member: ZipMember = {
    name,
    method,
    packed: bytes.subarray(start, start + packedSize!),
    size: size!,
    crc: crc!,
    time: bytes.readUInt32LE(entry + 12),
  };
  return { member, span: { from: local!, to: start + packedSize! } };
}

/** @throws Unreadable when what is unpacked is not what the directory says */
export function unpack({ name, method, packed, size, crc }: ZipMember): Buffer {
  let content: Buffer;
  try {
    content = method === 0 ? packed : inflateRawSync(packed, { maxOutputLength: Math.max(1, size) });
  } catch {
    throw damaged(`${name} that does not unpack to what the file says`);
  }
  if (content.length !== size || crc32(content) !== crc)
    throw damaged(`${name} with other bytes than it was packed from`);
  return content;
}

/** The same zip file with some members replaced; all others keep their packed bytes. */
export function writeZip(members: readonly ZipMember[], replaced: ReadonlyMap<string, Buffer>): Buffer {
  const local: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const member of members) {
    const content = replaced.get(member.name);
    const { name, method, packed, size, crc, time } =
      content === undefined
        ? member
        : {
            ...member,
            method: 8,
            packed: deflateRawSync(content),
            size: content.length,
            crc: crc32(content),
          };
    const nameBytes = Buffer.from(name);
    // From "version needed" to "extra length", the same in both records. Bit 11: the name is in UTF-8.
    const shared = Buffer.alloc(26);
    shared.writeUInt16LE(20, 0);
    shared.writeUInt16LE(0x0800, 2);
    shared.writeUInt16LE(method, 4);
    shared.writeUInt32LE(time, 6);
    shared.writeUInt32LE(crc, 10);
    shared.writeUInt32LE(packed.length, 14);
    shared.writeUInt32LE(size, 18);
    shared.writeUInt16LE(nameBytes.length, 22);
    local.push(uint32(LOCAL), shared, nameBytes, packed);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(at, 10);
    directory.push(uint32(ENTRY), Buffer.from([20, 0]), shared, rest, nameBytes);
    at += 30 + nameBytes.length + packed.length;
  }
  const size = directory.reduce((sum, part) => sum + part.length, 0);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(members.length, 4);
  end.writeUInt16LE(members.length, 6);
  end.writeUInt32LE(size, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...local, ...directory, uint32(END), end]);
}

function uint32(value: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(value);
  return bytes;
}
