/**
 * What XML 1.0 cannot carry, further control characters, and the marks that turn the direction of a line (UAX #9,
 * table 4 and section 3.1.2): with them a text could read otherwise than it is.
 */
const NOT_SHOWN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g;
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Text as a workbook or a picture can carry it: what neither can is shown as �. */
export const xmlText = (text: string): string =>
  text.replace(NOT_SHOWN, "\ufffd").replace(LONE_SURROGATE, "\ufffd");
