/**
 * A text made of two parts, made once for each pair. A text made anew is read again, letter by letter, whenever it is looked up as a word
 * of a column; the same text is known. Only for pairs that are few, for they are kept.
 */
export function joinedOnce<A extends string, B extends string | number>(
  join: (a: A, b: B) => string,
): (a: A, b: B) => string {
  const known = new Map<A, Map<B, string>>();
  return (a, b) => {
    let ofA = known.get(a);
    if (ofA === undefined) {
      ofA = new Map();
      known.set(a, ofA);
    }
    let text = ofA.get(b);
    if (text === undefined) {
      text = join(a, b);
      ofA.set(b, text);
    }
    return text;
  };
}
