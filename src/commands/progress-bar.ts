import type { Progress } from "../season/plan-sheet.ts";

const WIDTH = 30;
/** Nothing is shown for work that ends sooner than this. */
const PATIENCE_MS = 400;
const REDRAW_MS = 100;

/**
 * A bar on standard error while long work runs, on a terminal only; it clears its line at the end.
 *
 * @param now milliseconds, from the edge's clock
 */
export function progressBar(
  label: string,
  terminal: { readonly isTTY?: boolean; write(text: string): unknown },
  now: () => number,
): Progress {
  if (terminal.isTTY !== true) return () => {};
  const started = now();
  let drawn = Number.NEGATIVE_INFINITY;
  return (done, total) => {
    const at = now();
    if (at - started < PATIENCE_MS || (done < total && at - drawn < REDRAW_MS)) return;
    drawn = at;
    const part = total === 0 ? 1 : done / total;
    const full = Math.round(part * WIDTH);
    const bar = `${"█".repeat(full)}${"░".repeat(WIDTH - full)}`;
    terminal.write(done < total ? `\r${label} ${bar} ${Math.round(part * 100)} %` : "\r\u001b[2K");
  };
}
