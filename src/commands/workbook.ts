import { join } from "node:path";
import { withStability } from "../season/selection-stability.ts";
import { bidExtras } from "./bid-extras.ts";
import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { exitCodeOf, loadWholeOrSay } from "./load-program.ts";
import { writeWorkbook } from "./write-workbook.ts";

/** Where a program's outputs go unless the user says otherwise. */
const OUTPUTS = "outputs";

/** `wyeplan workbook FOLDER [--out FOLDER]`: writes the bid book and, apart from it, the planning book. */
export async function workbookOf(
  folder: string,
  options: { readonly out?: string },
  io: CommandIo,
): Promise<ExitCode> {
  const loaded = await loadWholeOrSay(folder, io);
  if (loaded === null) return EXIT.notDone;
  const program = withStability(loaded.program);
  const written = await writeWorkbook(program, options.out ?? join(folder, OUTPUTS), (view) =>
    bidExtras(view, program, loaded.settings),
  );
  io.out(
    `${written.bidBook}  for bidders: quantities and the lateral schedule, no estimate\n` +
      `${written.planningBook}  for the city: ranking, reasons, estimate, materials; never send it to bidders\n`,
  );
  return exitCodeOf(program);
}
