import { Text, Transform } from "ink";
import type { Size } from "./sheet-view.ts";

/**
 * Draws lines, computes nothing. Ink measures and remembers every different text it is given, for ever; so it is
 * given one blank text a size, and the lines are put in its place as the last step of drawing.
 */
export function Screen({ lines, size }: { readonly lines: readonly string[]; readonly size: Size }) {
  const blank = Array.from({ length: size.rows }, () => " ".repeat(size.columns)).join("\n");
  return (
    <Transform transform={(_blank, at) => lines[at] ?? ""}>
      <Text>{blank}</Text>
    </Transform>
  );
}
