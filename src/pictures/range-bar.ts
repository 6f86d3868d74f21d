/** A range on a scale of so many letters: ─ from P10 to P90, █ from P50 to P80, │ where the plan is. */
export function rangeBar(
  range: {
    readonly planned: number;
    readonly p10: number;
    readonly p50: number;
    readonly p80: number;
    readonly p90: number;
  },
  scale: { readonly from: number; readonly to: number },
  letters: number,
): string {
  const place = (value: number): number =>
    Math.round(((value - scale.from) / (scale.to - scale.from)) * (letters - 1));
  const bar = new Array<string>(letters).fill(" ");
  const fill = (from: number, to: number, letter: string) => {
    for (let at = Math.max(0, place(from)); at <= Math.min(letters - 1, place(to)); at++) bar[at] = letter;
  };
  if (!(scale.to > scale.from) || letters < 1) return "";
  fill(range.p10, range.p90, "─");
  fill(range.p50, range.p80, "█");
  fill(range.planned, range.planned, "│");
  return bar.join("").trimEnd();
}

/** A bar as long as a share of so many letters. */
export const shareBar = (share: number, letters: number): string =>
  "█".repeat(Math.round(Math.min(1, Math.max(0, share)) * letters));
