import type { Row, SheetModel, SheetPicture } from "./sheet-model.ts";

/** A picture for bidders, or why there is none. */
export interface BidPicture {
  readonly title: string;
  readonly picture: SheetPicture | null;
  /** What it shows, in words and figures, for those who do not see it. */
  readonly words: string;
}

/** Each picture in words, and the pictures themselves below: a book too big for pictures has the words. */
export function picturesSheet(pictures: readonly BidPicture[]): SheetModel {
  return {
    name: "Pictures",
    title: "Pictures",
    notes: [
      "What each picture shows stands in words first. In a book of very many rows the pictures are left out.",
    ],
    columns: [
      { heading: "Picture", width: 26, wrap: true },
      { heading: "In words", width: 84, wrap: true },
    ],
    rows: pictures.map(({ title, words }): Row => [title, words]),
    pictures: pictures.flatMap(({ picture }) => picture ?? []),
    frozenColumns: 0,
    pagesWide: 1,
    portrait: true,
    locked: true,
  };
}
