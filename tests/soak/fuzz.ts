import { Random } from "../../sample-programs/random.ts";
import type { FuzzTarget, Outcome } from "./fuzz-results.ts";
import { fuzzTargets } from "./fuzz-targets.ts";
import { mutated } from "./mutate.ts";
import { mutatedJson } from "./mutate-json.ts";
import { settingsAtRandom } from "./settings-at-random.ts";
import type { Watchdog } from "./watchdog.ts";

/** An input that takes more of a processor has as good as hung: most take under a millisecond. */
export const LONGEST_MS = 3_000;
/** Memory the whole process may have had in use at its most. */
export const MOST_MEGABYTES = 1_500;

export interface FuzzCount {
  inputs: number;
  taken: number;
  refused: number;
  slowestMs: number;
  ms: number;
}

export interface FuzzReport {
  readonly byTarget: ReadonlyMap<string, FuzzCount>;
  readonly inputs: number;
  readonly seconds: number;
  readonly faults: readonly string[];
}

/** Of this process, not of the clock: a machine that is busy with other things hangs nobody. */
export function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** Targets in turn, each as often as its weight says. */
const turns: readonly FuzzTarget[] = fuzzTargets.flatMap((target) =>
  Array.from({ length: target.weight }, () => target),
);

/**
 * Feeds damaged inputs of numbers `from` up to, not including, `to`. Input n is always the same bytes for the same seed and kept seeds.
 *
 * @param until clock of `performance.now()` after which it stops
 */
export async function fuzz(
  from: number,
  to: number,
  seed: number,
  until = Number.POSITIVE_INFINITY,
  watchdog: Watchdog | null = null,
): Promise<FuzzReport> {
  const started = performance.now();
  const byTarget = new Map(
    fuzzTargets.map(
      ({ name }) => [name, { inputs: 0, taken: 0, refused: 0, slowestMs: 0, ms: 0 }] as [string, FuzzCount],
    ),
  );
  const faults: string[] = [];
  let number = from;
  for (; number < to && faults.length < 20; number++) {
    if (performance.now() > until) break;
    const { target, outcome, ms, faults: found } = await fuzzOne(number, seed, watchdog);
    const count = byTarget.get(target)!;
    count.inputs++;
    count.ms += ms;
    count.slowestMs = Math.max(count.slowestMs, ms);
    if (outcome !== "broken") count[outcome]++;
    faults.push(...found);
  }
  return { byTarget, inputs: number - from, seconds: (performance.now() - started) / 1000, faults };
}

export interface FuzzedInput {
  /** The name of what it was fed to. */
  readonly target: string;
  readonly bytes: Uint8Array;
  readonly outcome: "taken" | "refused" | "broken";
  /** Of a processor. */
  readonly ms: number;
  readonly faults: readonly string[];
}

/** Makes the damaged input of this number and feeds it to its target. */
export async function fuzzOne(
  number: number,
  seed: number,
  watchdog: Watchdog | null = null,
): Promise<FuzzedInput> {
  const target = turns[number % turns.length]!;
  const bytes = inputOf(target, new Random().restart(seed, 3, number));
  watchdog?.begin(number);
  const begun = cpuMs();
  const outcome = await feed(target, bytes);
  const ms = cpuMs() - begun;
  const named = `input ${number} (${target.name})`;
  const faults: string[] = [];
  if (typeof outcome === "object") faults.push(`${named}: ${outcome.fault}`);
  if (ms > LONGEST_MS) faults.push(`${named} took ${Math.round(ms)} ms`);
  return {
    target: target.name,
    bytes,
    outcome: typeof outcome === "object" ? "broken" : outcome,
    ms,
    faults,
  };
}

const whole = JSON.parse(
  new TextDecoder().decode(fuzzTargets.find(({ name }) => name === "program.json, bytes")!.seeds[0]),
) as Record<string, unknown>;

/** The bytes of an input: a damaged seed; of the tables laid over, settings at random that are written well. */
function inputOf(target: FuzzTarget, random: Random): Uint8Array {
  const { seeds, words, jsonFrom, most } = target;
  if (jsonFrom !== undefined && random.chance(0.5)) return mutatedJson(random, seeds, words, jsonFrom);
  if (seeds.length > 0) return mutated(random, seeds, words, most);
  return new TextEncoder().encode(JSON.stringify(settingsAtRandom(random, whole)));
}

async function feed(target: FuzzTarget, bytes: Uint8Array): Promise<Outcome> {
  try {
    const outcome = await target.feed(bytes);
    return typeof outcome === "object" ? { fault: `${outcome.fault}; ${excerpt(bytes)}` } : outcome;
  } catch (error) {
    const said =
      error instanceof Error
        ? (error.stack ?? error.message).split("\n").slice(0, 3).join(" ")
        : String(error);
    return { fault: `crashed: ${said}; ${excerpt(bytes)}` };
  }
}

const excerpt = (bytes: Uint8Array): string =>
  JSON.stringify(new TextDecoder().decode(bytes.length > 4000 ? bytes.subarray(0, 4000) : bytes)).slice(
    0,
    1500,
  );
