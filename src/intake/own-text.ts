/** From this length V8 keeps a piece of a string as a window on the whole: a kept id would keep its 64 KiB of file. */
const WINDOW_LENGTH = 13;

/** The same text in memory of its own, for text that is kept while the file goes by. */
export const ownText = (text: string): string => (text.length < WINDOW_LENGTH ? text : ` ${text}`.slice(1));
