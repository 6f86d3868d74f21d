import { Unreadable } from "./unreadable.ts";

/** Who is told of the parts of an XML text, in order. Names come without their prefix. */
export interface XmlListener {
  /** @param from where the tag begins in the text, @param to where it ends */
  open(name: string, attributes: string, from: number, to: number): void;
  close(name: string, from: number, to: number): void;
  text(text: string): void;
}

/** Spreadsheets nest ten deep. */
const DEEPEST = 60;
const QUOTE = 34;
const APOSTROPHE = 39;
const GREATER = 62;

const malformed = (found: string): Unreadable =>
  new Unreadable(found, "a sheet as spreadsheets write it", "Ask the sender to save the file again.");

/**
 * Reads XML once from front to back, in time proportional to its length: no entities but the five of XML, no document
 * type, nothing from outside.
 *
 * @throws Unreadable when it is not well formed
 */
export function scanXml(xml: string, listener: XmlListener): void {
  const open: string[] = [];
  let at = 0;
  while (at < xml.length) {
    const tag = xml.indexOf("<", at);
    if (tag < 0 || tag > at) {
      const text = xml.slice(at, tag < 0 ? xml.length : tag);
      if (open.length > 0) listener.text(decoded(text));
      else if (/[^\s\ufeff]/.test(text)) throw malformed("text outside of the sheet");
      if (tag < 0) break;
    }
    if (xml.startsWith("<!--", tag)) at = after(xml, "-->", tag + 4);
    else if (xml.startsWith("<![CDATA[", tag)) {
      at = after(xml, "]]>", tag + 9);
      listener.text(xml.slice(tag + 9, at - 3));
    } else if (xml.startsWith("<?", tag)) at = after(xml, "?>", tag + 2);
    else if (xml.startsWith("<!", tag)) throw malformed("a document type, which no spreadsheet writes");
    else {
      const end = tagEnd(xml, tag + 1);
      if (xml[tag + 1] === "/") {
        const name = local(xml.slice(tag + 2, end).trim());
        if (open.pop() !== name) throw malformed(`</${name}> that closes something else`);
        listener.close(name, tag, end + 1);
      } else {
        const empty = xml[end - 1] === "/";
        const inside = xml.slice(tag + 1, empty ? end - 1 : end);
        const space = inside.search(/\s/);
        const name = local(space < 0 ? inside : inside.slice(0, space));
        if (name === "") throw malformed("a tag without a name");
        listener.open(name, space < 0 ? "" : inside.slice(space), tag, end + 1);
        if (empty) listener.close(name, tag, end + 1);
        else if (open.push(name) > DEEPEST) throw malformed(`tags more than ${DEEPEST} deep`);
      }
      at = end + 1;
    }
  }
  if (open.length > 0) throw malformed(`<${open.at(-1)}> that is never closed`);
}

function after(xml: string, mark: string, from: number): number {
  const found = xml.indexOf(mark, from);
  if (found < 0) throw malformed(`no ${mark}`);
  return found + mark.length;
}

/** Where the tag ends; a > within quotes does not end it. */
function tagEnd(xml: string, from: number): number {
  for (let i = from; i < xml.length; i++) {
    const code = xml.charCodeAt(i);
    if (code === GREATER) return i;
    if (code === QUOTE || code === APOSTROPHE) {
      const close = xml.indexOf(code === QUOTE ? '"' : "'", i + 1);
      if (close < 0) break;
      i = close;
    }
  }
  throw malformed("a tag that does not end");
}

const local = (name: string): string => name.slice(name.indexOf(":") + 1);

/** The attributes of a tag by their names, prefixes kept: `r:id` and `id` are two. */
export function attributesOf(attributes: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  // Each match begins where the last one ended, or a long run of letters would be searched again from each of them.
  const attribute = /\s*([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/y;
  const end = attributes.trimEnd().length;
  while (attribute.lastIndex < end) {
    const match = attribute.exec(attributes);
    if (match === null) throw malformed("an attribute that cannot be read");
    found.set(match[1]!, decoded(match[2] ?? match[3] ?? ""));
  }
  return found;
}

const NAMED: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

function decoded(text: string): string {
  if (!text.includes("&")) return text;
  return text.replace(/&([^;&\s]{1,10});|&/g, (_, name: string | undefined) => {
    const known = name === undefined ? undefined : NAMED[name];
    if (known !== undefined) return known;
    const digits = /^#(?:x([0-9a-fA-F]{1,6})|(\d{1,7}))$/.exec(name ?? "");
    const code =
      digits === null
        ? Number.NaN
        : digits[1] === undefined
          ? Number(digits[2])
          : Number.parseInt(digits[1], 16);
    if (!(code <= 0x10ffff)) throw malformed(`&${name ?? ""} that stands for nothing`);
    return String.fromCodePoint(code);
  });
}
