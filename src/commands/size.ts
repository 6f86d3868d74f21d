import { type CommandIo, EXIT, type ExitCode } from "./command-io.ts";
import { sheetText } from "./sheet-text.ts";
import { basisOfOptions } from "./size-basis.ts";
import { sizeAsJson } from "./size-json.ts";
import { sizeLiner } from "./size-liner.ts";
import type { SizeOptions } from "./size-options.ts";
import { askedUnits, askedUse, pipeOfOptions } from "./size-pipe.ts";
import { sheetTables, sizeSheet, sizeTitle, sourceText } from "./size-sheet.ts";
import { citationsOf } from "./source-citations.ts";

/**
 * `wyeplan size`: one liner on one sheet, by the plan's own stages: inputs, equations with their numbers, results, the
 * check that governs, sources and cautions. Every input can be set; what is not set is a named default, shown as such.
 * A wall that is refused is said on the sheet, and the exit code says so too.
 */
export function sizeOne(options: SizeOptions, io: CommandIo): ExitCode {
  const faults: string[] = [];
  const units = askedUnits(options, faults);
  const use = askedUse(options, faults);
  const pipe = pipeOfOptions(options, units, faults);
  const basis = basisOfOptions(options, use, units, faults);
  if (basis === null || faults.length > 0) {
    for (const fault of new Set(faults)) io.err(`${fault}\n`);
    return EXIT.notDone;
  }
  const sized = sizeLiner(use, pipe, basis);
  io.out(
    options.json === true
      ? `${JSON.stringify(sizeAsJson(sized), null, 2)}\n`
      : `${sheetText(sizeTitle(sized), sizeSheet(sized), citationsOf(sheetTables(sized), sourceText))}\n`,
  );
  return sized.rings.length === 0 ? EXIT.notDone : EXIT.done;
}
