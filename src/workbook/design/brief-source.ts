import { isAssumption, type Source } from "../../reference/source.ts";

/** A source in few words; the sheet Sources has it in full. Of an assumption its first sentence, which says what it is. */
export function briefSource(source: Source): string {
  if (isAssumption(source)) return `assumption: ${source.note?.split(/(?<=\.) /)[0] ?? ""}`;
  return [source.document, source.edition, source.at].filter((part) => part !== undefined).join(", ");
}
