/**
 * Share of a point load at the surface that reaches a rectangle right below it, by adding up Boussinesq's vertical
 * stress over the rectangle: another road to the closed form. Imports nothing of the program.
 *
 *   σ_z = 3·P·H³ / (2π·(x² + y² + H²)^(5/2))
 *
 * Composite Simpson over one quarter of the rectangle, `panels` (even) panels a side; lengths in any one unit.
 */
export function loadShareByQuadrature(width: number, length: number, depth: number, panels = 240): number {
  const stress = (x: number, y: number) =>
    (3 * depth ** 3) / (2 * Math.PI * (x * x + y * y + depth * depth) ** 2.5);
  const weight = (i: number) => (i === 0 || i === panels ? 1 : i % 2 === 1 ? 4 : 2);
  const stepX = width / 2 / panels;
  const stepY = length / 2 / panels;
  let total = 0;
  for (let i = 0; i <= panels; i++) {
    for (let j = 0; j <= panels; j++) total += weight(i) * weight(j) * stress(i * stepX, j * stepY);
  }
  return 4 * total * (stepX / 3) * (stepY / 3);
}
