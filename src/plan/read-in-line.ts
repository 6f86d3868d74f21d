/** A reader of one value, and the place of what it reads. */
export interface PlacedReader<Of> {
  readonly at: number;
  readonly read: (of: Of) => number | string;
}

/**
 * One function that reads all, each reader called from a place of its own: so the engine puts it in line. Called from a loop, by one call for
 * all of them, asking the rules took half as long again (0.7 µs a lateral, so 0.5).
 */
export function readInLine<Of, Value extends number | string>(
  readers: readonly PlacedReader<Of>[],
): (of: Of, into: { [at: number]: Value }) => void {
  const calls = readers.map(({ at }, i) => `into[${at}] = read${i}(of);`);
  const named = new Function(
    ...readers.map((_, i) => `read${i}`),
    ["return (of, into) => {", ...calls, "};"].join("\n"),
  );
  return named(...readers.map(({ read }) => read));
}
