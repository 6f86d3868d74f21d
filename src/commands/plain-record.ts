/**
 * For JSON.stringify: gives what a record works out when it is asked (the getters of its class) as parts of it, like any other. Without this a
 * record would keep back just what was too dear to work out for every lateral.
 */
export function withWhatIsAsked(_key: string, value: unknown): unknown {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  const asked = gettersOf(value);
  if (asked.length === 0) return value;
  return { ...value, ...Object.fromEntries(asked.map((key) => [key, Reflect.get(value, key)])) };
}

/** Names of what the classes of an object work out, the base class first; none for a plain record. */
function gettersOf(value: object): readonly string[] {
  const above = Object.getPrototypeOf(value) as object | null;
  if (above === null || above === Object.prototype) return [];
  const own = Object.entries(Object.getOwnPropertyDescriptors(above)).flatMap(([key, { get }]) =>
    get === undefined ? [] : [key],
  );
  return [...new Set([...gettersOf(above), ...own])];
}
