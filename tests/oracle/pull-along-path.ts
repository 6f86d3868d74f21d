export type Piece =
  | { readonly kind: "straight"; readonly length: number; readonly rise: number }
  | { readonly kind: "bend"; readonly turnDegrees: number; readonly radius: number };

/**
 * Greatest winch pull and tube tension by marching along the path in small steps (midpoint rule), the head of the tube at the end
 * of each step: on the straight a weight on a slope with friction, in a level bend dT/dα = μ·√(T² + (wR)²), and the rope ahead
 * multiplying by e^(μ_rope·angle ahead).
 */
export function marchPull(
  path: readonly Piece[],
  tube: { weight: number; friction: number; ropeFriction: number; tail: number },
  steps = 4000,
): { atWinch: number; inTube: number } {
  const angleOf = (piece: Piece) => (piece.kind === "bend" ? (piece.turnDegrees / 180) * Math.PI : 0);
  let ahead = path.reduce((sum, piece) => sum + angleOf(piece), 0);
  let tension = tube.tail;
  let inTube = tension;
  let atWinch = tension * Math.exp(tube.ropeFriction * ahead);
  for (const piece of path) {
    for (let i = 0; i < steps; i++) {
      if (piece.kind === "straight") {
        const angle = Math.asin(piece.rise);
        const normal = tube.weight * Math.cos(angle);
        const gain = (tube.friction * normal + tube.weight * Math.sin(angle)) * (piece.length / steps);
        tension = Math.max(0, tension + gain);
      } else {
        const step = angleOf(piece) / steps;
        const wallForce = (t: number) => Math.hypot(t, tube.weight * piece.radius);
        const half = tension + (tube.friction * wallForce(tension) * step) / 2;
        tension += tube.friction * wallForce(half) * step;
        ahead -= step;
      }
      inTube = Math.max(inTube, tension);
      atWinch = Math.max(atWinch, tension * Math.exp(tube.ropeFriction * ahead));
    }
  }
  return { atWinch, inTube };
}
