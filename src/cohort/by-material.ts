/** A table a material. Those not fitted share that of the unknown one: made for each, they took half of a small city's fits. */
export function byMaterial<T>(
  materials: readonly string[],
  fitted: readonly string[],
  tabulate: (material: string) => T,
): Readonly<Record<string, T>> {
  const ofUnknown = tabulate("");
  return Object.fromEntries(
    materials.map((material) => [
      material,
      material !== "" && fitted.includes(material) ? tabulate(material) : ofUnknown,
    ]),
  );
}
