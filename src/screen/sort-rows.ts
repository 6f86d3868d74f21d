/** Up to so many rows comparing is faster than clearing four times 65,536 counts: 60 rows took 2.7 ms, and take 0.02. */
const FEW = 1_000;

/**
 * The rows of `base` by a number each, smallest first (or largest), missing numbers (NaN) last either way. Rows with
 * the same number keep their order in `base`: sorting by several keys is sorting by the last first.
 *
 * Least-significant-digit radix sort on the bits of the doubles, 16 at a time: a million rows in about 0.1 s, where
 * a comparator takes four times as long.
 */
export function stableOrder(values: Float64Array, base: Uint32Array, descending: boolean): Uint32Array {
  const { low, high } = sortableBits(values, descending);
  if (base.length <= FEW) {
    const place = (i: number) => base[i]!;
    const order = Array.from(base, (_, i) => i).sort(
      (a, b) => high[place(a)]! - high[place(b)]! || low[place(a)]! - low[place(b)]! || a - b,
    );
    return Uint32Array.from(order, place);
  }
  let from = base.slice();
  let to = new Uint32Array(base.length);
  const digits = [
    (row: number) => low[row]! & 0xffff,
    (row: number) => low[row]! >>> 16,
    (row: number) => high[row]! & 0xffff,
    (row: number) => high[row]! >>> 16,
  ];
  for (const digit of digits) {
    const starts = new Uint32Array(0x10000);
    for (let i = 0; i < from.length; i++) starts[digit(from[i]!)]!++;
    // All rows alike in this digit: whole numbers have no low bits.
    if (from.length === 0 || starts[digit(from[0]!)] === from.length) continue;
    let start = 0;
    for (let value = 0; value < starts.length; value++) {
      const count = starts[value]!;
      starts[value] = start;
      start += count;
    }
    for (let i = 0; i < from.length; i++) to[starts[digit(from[i]!)]!++] = from[i]!;
    [from, to] = [to, from];
  }
  return from;
}

/**
 * The bits of each double as two words that compare as the doubles do: the bits of a positive double already rise
 * with its value, those of a negative one fall, so they are turned over.
 */
function sortableBits(
  values: Float64Array,
  descending: boolean,
): { readonly low: Uint32Array; readonly high: Uint32Array } {
  const low = new Uint32Array(values.length);
  const high = new Uint32Array(values.length);
  const double = new Float64Array(1);
  const words = new Uint32Array(double.buffer);
  const turn = descending ? 0xffffffff : 0;
  for (let row = 0; row < values.length; row++) {
    const value = values[row]!;
    if (Number.isNaN(value)) {
      low[row] = 0xffffffff;
      high[row] = 0xffffffff;
      continue;
    }
    double[0] = value + 0; // −0 becomes 0: they are one number to people.
    const top = words[1]!;
    const negative = top >>> 31 === 1;
    low[row] = (negative ? ~words[0]! : words[0]!) ^ turn;
    high[row] = (negative ? ~top : top | 0x80000000) ^ turn;
  }
  return { low, high };
}

/** Each text's place among the different texts, by code points: texts become numbers that sort alike. */
export function placesOf(texts: readonly string[]): Float64Array {
  const inOrder = [...new Set(texts)].sort((a, b) => (a < b ? -1 : 1));
  const places = new Map(inOrder.map((text, place) => [text, place]));
  return Float64Array.from(texts, (text) => places.get(text)!);
}
