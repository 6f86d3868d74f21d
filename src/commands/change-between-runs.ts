import type { ProgramLock } from "../program/lock.ts";
import type { Settings } from "../program/settings-schema.ts";
import type { Problem } from "../quantity/problem.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import type { CommandIo } from "./command-io.ts";
import { loadProgram } from "./load-program.ts";
import { keepRun, type Step, takeRun } from "./take-run.ts";

interface Loaded {
  readonly program: PlannedProgram;
  readonly settings: Settings;
}

/** A run as it was kept. */
interface KeptRun extends Loaded {
  readonly name: string;
  /** False where a snapshot held it already. */
  readonly isNew: boolean;
  readonly run: Awaited<ReturnType<typeof takeRun>>;
}

type Refused = { readonly ok: false; readonly problems: readonly Problem[] };

/** Changes a program's files and plans it anew: the runs before and after are kept, so that what moved can be told. */
export async function changeBetweenRuns<Changed extends { readonly ok: true }>(
  lock: ProgramLock,
  folder: string,
  loaded: Loaded,
  step: Omit<Step, "moment">,
  change: () => Promise<Changed | Refused>,
  io: CommandIo,
): Promise<
  | { readonly ok: true; readonly changed: Changed; readonly before: KeptRun; readonly after: KeptRun }
  | Refused
> {
  const keep = async (moment: Step["moment"], of: Loaded) => {
    const run = await takeRun(folder, of);
    const saved = await keepRun(lock, { ...step, moment }, run, io);
    return saved.ok ? { ...saved, ...of, run } : saved;
  };
  const before = await keep("before", loaded);
  if (!before.ok) return before;
  const changed = await change();
  if (!changed.ok) return changed;
  const planned = await loadProgram(folder);
  if (!planned.ok) return planned;
  const after = await keep("after", planned);
  return after.ok ? { ok: true, changed, before, after } : after;
}
