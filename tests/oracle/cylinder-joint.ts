const POINTS = 4000;

/** Where each generator of the lateral meets the main: across x, along z, and how far from the axes' crossing, s. By bisection. */
function meet(r: number, R: number, degrees: number, turn: number) {
  const beta = (degrees * Math.PI) / 180;
  const x = r * Math.cos(turn);
  // A frame around the lateral's axis (up sin β, along cos β): the second side is (cos β, −sin β).
  const up = (s: number) => s * Math.sin(beta) + r * Math.sin(turn) * Math.cos(beta);
  let low = -(r * Math.sin(turn) * Math.cos(beta)) / Math.sin(beta);
  let high = low + (2 * R) / Math.sin(beta);
  for (let i = 0; i < 80; i++) {
    const s = (low + high) / 2;
    if (Math.hypot(x, up(s)) < R) low = s;
    else high = s;
  }
  const s = (low + high) / 2;
  return { x, z: s * Math.cos(beta) - r * Math.sin(turn) * Math.sin(beta), s };
}

/** Area of a closed outline (x across, z along) on a cylinder of radius R: unrolled, then the shoelace formula. */
function unrolledArea(R: number, outline: (turn: number) => { x: number; z: number }): number {
  let twice = 0;
  for (let i = 0; i < POINTS; i++) {
    const a = outline((i / POINTS) * 2 * Math.PI);
    const b = outline(((i + 1) / POINTS) * 2 * Math.PI);
    const ya = R * Math.asin(a.x / R);
    const yb = R * Math.asin(b.x / R);
    twice += ya * b.z - yb * a.z;
  }
  return Math.abs(twice) / 2;
}

/** Area of the hole a lateral makes in a main's wall, from the true curve in which the two cylinders meet. */
export const openingByCurve = (r: number, R: number, degrees: number): number =>
  unrolledArea(R, (turn) => meet(r, R, degrees, turn));

/** Area within the ellipse of half-axes a across and c along, as seen square on, laid on the cylinder. */
export const patchByOutline = (a: number, c: number, R: number): number =>
  unrolledArea(R, (turn) => ({ x: a * Math.cos(turn), z: c * Math.sin(turn) }));

/** Area of a lateral's sleeve up to a square end at `up` beyond the main's wall on the axis: the generators' mean length. */
export function sleeveByGenerators(r: number, R: number, degrees: number, up: number): number {
  const beta = (degrees * Math.PI) / 180;
  let sum = 0;
  for (let i = 0; i < POINTS; i++)
    sum += R / Math.sin(beta) + up - meet(r, R, degrees, (i / POINTS) * 2 * Math.PI).s;
  return 2 * Math.PI * r * (sum / POINTS);
}
