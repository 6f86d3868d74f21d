export interface Measured {
  readonly step: string;
  readonly seconds: number;
  /** Most memory the process has had so far, MB. */
  readonly peak: number;
}

export const peakMegabytes = (): number => process.resourceUsage().maxRSS / 1024;

/** Does the work once and notes what it took. */
export async function timed<T>(measured: Measured[], step: string, work: () => T | Promise<T>): Promise<T> {
  const started = performance.now();
  const result = await work();
  const seconds = (performance.now() - started) / 1000;
  measured.push({ step, seconds, peak: peakMegabytes() });
  return result;
}
