import { createHash } from "node:crypto";
import type { Row, SheetModel, SheetPicture } from "./sheet-model.ts";

/** A picture for bidders, or why there is none. */
export interface BidPicture {
  readonly title: string;
  readonly picture: Omit<SheetPicture, "alt"> | null;
  /** As it was drawn, before it became dots: what its mark is made of, the same on every machine. Empty without one. */
  readonly drawing: string;
  /** What it shows, in words and figures, for those who do not see it. */
  readonly words: string;
}

/** The first hexadecimal digits of SHA-256 of the drawing: another drawing, another mark. */
const markOf = ({ drawing }: BidPicture): string =>
  drawing === "" ? "" : createHash("sha256").update(drawing).digest("hex").slice(0, 12);

/**
 * Each picture in words, and the pictures themselves below. A picture that is another has another mark, which a re-issue
 * lists.
 */
export function picturesSheet(pictures: readonly BidPicture[]): SheetModel {
  return {
    name: "Pictures",
    title: "Pictures",
    notes: ["What each picture shows stands in words first. A mark changes with its picture."],
    columns: [
      { heading: "Picture", width: 22, wrap: true },
      { heading: "In words", width: 74, wrap: true },
      { heading: "Mark", width: 15 },
    ],
    rows: pictures.map((picture): Row => [picture.title, picture.words, markOf(picture)]),
    pictures: pictures.flatMap(({ picture, words }) =>
      picture === null ? [] : [{ ...picture, alt: words }],
    ),
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
  };
}
