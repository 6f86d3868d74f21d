import { createHash } from "node:crypto";
import { MOST_DOCUMENT_CELLS, type Row, type SheetModel, type SheetPicture } from "./sheet-model.ts";

/** A picture for bidders, or why there is none. */
export interface BidPicture {
  readonly title: string;
  readonly picture: SheetPicture | null;
  /** As it was drawn, before it became dots: what its mark is made of, the same on every machine. Empty without one. */
  readonly drawing: string;
  /** What it shows, in words and figures, for those who do not see it. */
  readonly words: string;
}

/** The first hexadecimal digits of SHA-256 of the drawing: another drawing, another mark. */
const markOf = ({ drawing }: BidPicture): string =>
  drawing === "" ? "" : createHash("sha256").update(drawing).digest("hex").slice(0, 12);

/** Room for the cells of the sheets that lead to the others: the form and the way to read the book. */
const OTHER_CELLS = 500;

/**
 * Each picture in words, and the pictures themselves below; a book too big for pictures has the words, and says so. A
 * picture that is another has another mark, which a re-issue lists.
 *
 * @param cells of the other sheets of the book
 */
export function picturesSheet(pictures: readonly BidPicture[], cells: number): SheetModel {
  const fits = cells + OTHER_CELLS <= MOST_DOCUMENT_CELLS;
  return {
    name: "Pictures",
    title: "Pictures",
    notes: [
      fits
        ? "What each picture shows stands in words first. A mark changes with its picture."
        : `This book has more than ${MOST_DOCUMENT_CELLS} cells, and a book of that size is written without pictures: what they would show stands here in words.`,
    ],
    columns: [
      { heading: "Picture", width: 22, wrap: true },
      { heading: "In words", width: 74, wrap: true },
      { heading: "Mark", width: 15 },
    ],
    rows: pictures.map((picture): Row => [picture.title, picture.words, markOf(picture)]),
    ...(fits ? { pictures: pictures.flatMap(({ picture }) => picture ?? []) } : {}),
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
  };
}
