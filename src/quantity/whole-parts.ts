/**
 * Whole parts that add up to a whole total: each is cut to a whole, and what is left over goes to those cut by most, the earlier of equals.
 * None is farther from its value than one.
 *
 * @param exact none below 0
 */
export function wholeParts(exact: readonly number[], total: number): readonly number[] {
  // What is whole but for its last binary digits is not cut.
  const whole = exact.map((part) => Math.floor(part + 1e-6));
  const left = total - whole.reduce((sum, part) => sum + part, 0);
  const cut = (i: number): number => exact[i]! - whole[i]!;
  const most = exact.map((_, i) => i).sort((a, b) => cut(b) - cut(a) || a - b);
  for (const i of most.slice(0, Math.max(0, left))) whole[i]! += 1;
  return whole;
}
