import { readdir, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileProblem, type Problem } from "../quantity/problem.ts";
import { asTyped } from "./as-typed.ts";
import { errorCode, SETTINGS_FILE } from "./program-files.ts";

const EXPECTED = `the folder of a program, with its ${SETTINGS_FILE}`;

/** Names that are looked at for what was meant: a folder may hold very many. */
const LOOKED_AT = 200;
const NAMED = 3;

/** Says what stands where a program was named and none is, and what makes one of it or was meant. */
export async function noProgram(folder: string): Promise<Problem> {
  const problem = (found: string, remedy: string) => fileProblem(folder, found, EXPECTED, remedy);
  let names: readonly string[];
  try {
    names = (await readdir(folder)).sort();
  } catch (error) {
    switch (errorCode(error)) {
      case "ENOENT":
        return problem(
          "no such file or folder",
          "Correct the name; wyeplan new makes a program of a city's CSV files, wyeplan try copies the sample.",
        );
      case "ENOTDIR":
        return problem("a file", aboutFile(folder));
      default:
        throw error;
    }
  }
  if (names.length === 0) return problem("an empty folder", madeBy(folder, "FILE.csv"));
  const found = `a folder without ${SETTINGS_FILE}`;
  const programs = await programsIn(folder, names.slice(0, LOOKED_AT));
  if (programs.length > 0)
    return problem(found, `Name the program in it: ${programs.map(asTyped).join(", ")}.`);
  const lists = names.filter(isList);
  return problem(
    found,
    lists.length === 0 ? madeBy("NEW-FOLDER", "FILE.csv") : madeBy("NEW-FOLDER", join(folder, lists[0]!)),
  );
}

function aboutFile(file: string): string {
  if (file.endsWith(SETTINGS_FILE)) return `Name its folder: ${asTyped(dirname(file))}.`;
  return madeBy("NEW-FOLDER", isList(file) ? file : "FILE.csv");
}

const isList = (name: string): boolean => /\.(csv|tsv|txt)$/i.test(name);

const madeBy = (folder: string, file: string): string =>
  `A city's list of laterals becomes a program by: wyeplan new ${asTyped(folder)} --laterals ${asTyped(file)}`;

async function programsIn(folder: string, names: readonly string[]): Promise<readonly string[]> {
  const found: string[] = [];
  for (const name of names) {
    const inside = join(folder, name);
    const isProgram = await stat(join(inside, SETTINGS_FILE)).then(
      (file) => file.isFile(),
      () => false,
    );
    if (isProgram && found.push(inside) === NAMED) break;
  }
  return found;
}
