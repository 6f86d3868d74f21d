const SPECIAL = /[&<>"']/g;
const ESCAPED: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&apos;",
};

/** Text as it stands between tags and in attributes. What XML cannot carry at all is gone before (`cellText`). */
export const xmlEscaped = (text: string): string =>
  text.replace(SPECIAL, (character) => ESCAPED[character] ?? character);
