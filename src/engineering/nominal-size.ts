import { type Millimetres, millimetres } from "../quantity/si.ts";

/** The stocked diameter nearest to the host's, within the tolerance; null when the host is between sizes. */
export function nominalFor(
  diameter: Millimetres,
  stocked: readonly number[],
  tolerance: number,
): Millimetres | null {
  let nearest: number | null = null;
  for (const size of stocked) {
    if (nearest === null || Math.abs(size - diameter) < Math.abs(nearest - diameter)) nearest = size;
  }
  return nearest !== null && Math.abs(nearest - diameter) <= tolerance * nearest
    ? millimetres(nearest)
    : null;
}
