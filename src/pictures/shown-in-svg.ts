/** What XML 1.0 cannot carry, further control characters, and the marks that turn the direction of a line (UAX #9). */
const NOT_SHOWN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g;
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** A picture whose names come from a city's files: what no SVG can carry is shown as �. */
export const shownInSvg = (svg: string): string =>
  svg.replace(NOT_SHOWN, "\ufffd").replace(LONE_SURROGATE, "\ufffd");
