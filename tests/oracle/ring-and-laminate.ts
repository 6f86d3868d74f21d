/** Area of a ring, in the square of the unit given, by summing thin shells 2πr·dr from inside to outside. */
export function ringArea(outsideDiameter: number, thickness: number): number {
  const shells = 1000;
  const width = thickness / shells;
  let area = 0;
  for (let i = 0; i < shells; i++) area += 2 * Math.PI * (outsideDiameter / 2 - (i + 0.5) * width) * width;
  return area;
}

/** Resin volume in a litre of glass laminate, by halving on the fibre volume until the masses stand in ratio. */
export function resinInLaminate(
  fibreMassFraction: number,
  fibreDensity: number,
  resinDensity: number,
): number {
  let low = 0;
  let high = 1;
  for (let i = 0; i < 100; i++) {
    const fibre = (low + high) / 2;
    const fibreMass = fibre * fibreDensity;
    const share = fibreMass / (fibreMass + (1 - fibre) * resinDensity);
    if (share < fibreMassFraction) low = fibre;
    else high = fibre;
  }
  return 1 - low;
}

/**
 * Masses of base and hardener from two equations, m_b + m_h = M and m_b/(b·ρ_b) = m_h/(h·ρ_h), by Cramer's rule; pass
 * densities of 1 for parts by weight.
 */
export function solveMix(mixed: number, b: number, h: number, baseDensity: number, hardenerDensity: number) {
  const p = 1 / (b * baseDensity);
  const q = -1 / (h * hardenerDensity);
  const determinant = q - p;
  return { base: (mixed * q) / determinant, hardener: (-mixed * p) / determinant };
}
