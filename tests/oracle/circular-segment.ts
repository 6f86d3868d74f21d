/** Manning flow in m³/s at a depth, from the circular segment in terms of depth: metres throughout. */
export function segmentFlow(depth: number, diameter: number, n: number, slope: number) {
  const r = diameter / 2;
  const half = Math.acos((r - depth) / r);
  const area = r * r * half - (r - depth) * Math.sqrt(2 * r * depth - depth * depth);
  const velocity = ((area / (2 * r * half)) ** (2 / 3) * Math.sqrt(slope)) / n;
  return { flow: area * velocity, velocity };
}

/** Depth of greatest flow, over the diameter, by ternary search. */
export function deepestFlow(): number {
  let low = 0.5;
  let high = 1;
  for (let i = 0; i < 200; i++) {
    const a = low + (high - low) / 3;
    const b = high - (high - low) / 3;
    if (segmentFlow(a, 1, 1, 1).flow < segmentFlow(b, 1, 1, 1).flow) low = a;
    else high = b;
  }
  return (low + high) / 2;
}

/** Depth that carries a flow, by bisection below the depth of greatest flow. */
export function depthByBisection(flow: number, diameter: number, n: number, slope: number): number {
  let low = 0;
  let high = deepestFlow() * diameter;
  for (let i = 0; i < 200; i++) {
    const depth = (low + high) / 2;
    if (segmentFlow(depth, diameter, n, slope).flow < flow) low = depth;
    else high = depth;
  }
  return (low + high) / 2;
}

/** Full-pipe flow in ft³/s by the US form, Q = 1.48592/n·A·R^(2/3)·S^(1/2), the constant being 0.3048^(−1/3). */
export function fullFlowUs(diameterFeet: number, n: number, slope: number): number {
  const area = (Math.PI * diameterFeet ** 2) / 4;
  return ((1 / Math.cbrt(0.3048)) * area * (diameterFeet / 4) ** (2 / 3) * Math.sqrt(slope)) / n;
}
