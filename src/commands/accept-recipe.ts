import { basisForSettings } from "../program/basis-for-settings.ts";
import { readSettings } from "../program/settings.ts";
import { saveNumbered } from "../program/snapshots.ts";
import { describeProblem, type Problem } from "../quantity/problem.ts";
import type { RecipeItem } from "../screen/pane-data.ts";
import type { PreparedBasis } from "../season/own-columns.ts";
import type { PlannedProgram } from "../season/planned-program.ts";
import { changedSettings, writeRecipe } from "./change-recipe.ts";
import { prepareBasis } from "./prepare-basis.ts";
import type { SheetWriter } from "./sheet-edits.ts";
import { takeRun } from "./take-run.ts";

export type AcceptedRecipe =
  | { readonly ok: true; readonly basis: PreparedBasis; readonly notice: string }
  | { readonly ok: false; readonly because: string };

/**
 * Changes a value of the recipe in program.json. The decision log holds values of laterals only; so the run before the change is saved as
 * a snapshot whose line "by" says what was changed to what, by whom and why, and "what moved" then compares with it.
 */
export async function acceptRecipe(
  program: PlannedProgram,
  { item, text }: { readonly item: RecipeItem; readonly text: string },
  reason: string,
  { lock, who, now }: SheetWriter,
): Promise<AcceptedRecipe> {
  const refused = (because: string) => ({ ok: false, because }) as const;
  const standing = await readSettings(lock.folder);
  if (!standing.ok) return refused(inWords(standing.problems));
  const changed = await changedSettings(lock.folder, item.path, text);
  if (!changed.ok) return refused(changed.because);
  const prepared = await prepareBasis(basisForSettings(changed.settings));
  if (!prepared.ok)
    return refused(
      prepared.faults.map(({ expected, remedy }) => `Expected ${expected}. ${remedy}`).join(" "),
    );

  const key = item.path.join(".");
  const run = await takeRun(lock.folder, { program, settings: standing.settings });
  const by = `sheet, before ${key} was changed from ${item.text || item.empty} to ${text || item.empty}: ${reason}`;
  const saved = await saveNumbered(lock, `before-${item.path.at(-1)}`, run, { when: now(), who, by });
  if (!saved.ok) return refused(inWords(saved.problems));
  const because = await writeRecipe(lock, item.path, text);
  if (because !== null) return refused(because);
  const notice = saved.isNew
    ? `${key} is changed in program.json; the run before is kept as snapshot ${saved.name}, with the reason.`
    : `${key} is changed in program.json; the run before was kept already, as snapshot ${saved.name}: the reason is not in it.`;
  return { ok: true, basis: prepared.basis, notice };
}

const inWords = (problems: readonly Problem[]): string => problems.map(describeProblem).join(" ");
