import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { describe, expect, it } from "vitest";

const src = new URL("../src", import.meta.url).pathname;

/** The architecture, as a table. A folder may import itself, and these; `type` means types only. */
const mayImport: Readonly<Record<string, readonly string[]>> = {
  quantity: [],
  columns: ["quantity"],
  reference: ["quantity", "columns"],
  formula: ["quantity", "columns"],
  sheet: ["quantity", "columns"],
  intake: ["quantity", "columns", "reference", "sheet"],
  engineering: ["quantity"],
  cohort: ["quantity", "engineering", "sheet"],
  plan: ["quantity", "engineering", "columns", "reference", "type cohort"],
  season: ["quantity", "engineering", "columns", "type reference", "cohort", "plan", "sheet"],
  pictures: ["quantity", "sheet", "type plan", "type season"],
  bidding: ["quantity", "columns", "type reference", "engineering"],
  workbook: ["quantity", "columns", "reference", "sheet", "pictures", "bidding", "plan", "type season"],
  program: ["quantity", "reference", "columns", "type bidding"],
  screen: [
    "quantity",
    "columns",
    "sheet",
    "pictures",
    "type plan",
    "type season",
    "type reference",
    "type program",
  ],
  commands: ["*"],
  workers: ["*"],
};

/** Folders in which `import()` is allowed, besides main.ts. */
const mayImportLazily = new Set(["commands", "workers"]);

/** The order of the stages of one lateral: a stage may take the types of earlier ones, and call none. */
const stageFiles = [
  "condition",
  "defects-along",
  "risk",
  "failure",
  "effluent",
  "walls",
  "cure-fit",
  "sections",
  "verdicts",
  "liner",
  "wet-out",
  "cure",
  "forces",
  "flow",
  "bid-lines",
  "crew-time",
  "cost",
  "life",
  "choice",
];

interface Import {
  readonly file: string;
  readonly target: string;
  readonly typeOnly: boolean;
}

const sources = listSources(src);
const imports = sources.flatMap((file) => readImports(file, readFileSync(file, "utf8")));

function listSources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? listSources(join(folder, entry.name))
      : /\.tsx?$/.test(entry.name)
        ? [join(folder, entry.name)]
        : [],
  );
}

/** Static imports of our own files. `import { type A, type B }` counts as types only. */
function readImports(file: string, text: string): Import[] {
  const found: Import[] = [];
  for (const match of text.matchAll(/^import\s+(type\s+)?([^"';]*?)\s*from\s*"(\.[^"]+)"/gm)) {
    const names = (match[2] ?? "")
      .replace(/[{}]/g, "")
      .split(",")
      .map((name) => name.trim());
    const typeOnly =
      match[1] !== undefined || names.filter((name) => name !== "").every((name) => name.startsWith("type "));
    found.push({
      file: relative(src, file),
      target: relative(src, join(file, "..", match[3] ?? "")),
      typeOnly,
    });
  }
  return found;
}

const folderOf = (path: string): string => (path.includes(sep) ? (path.split(sep)[0] ?? "") : "");

/** Why an import is wrong by the table, or null. */
function faultOf({ file, target, typeOnly }: Import): string | null {
  const from = folderOf(file);
  const to = folderOf(target);
  if (target.startsWith(".."))
    return /^\.\.[\\/]shared[\\/].*\.json$/.test(target) && from === "reference"
      ? null
      : `${file} reaches out of src: ${target}`;
  if (from === "") return to === "commands" ? null : `${file} imports ${target}`;
  if (from === to) return null;
  const allowed = mayImport[from];
  if (allowed === undefined) return `${from} is not in the table`;
  if (allowed.includes("*") || allowed.includes(to)) return null;
  if (typeOnly && allowed.includes(`type ${to}`)) return null;
  return `${file} imports ${target}${typeOnly ? " (types)" : ""}`;
}

describe("the architecture", () => {
  it("has imports only as the table allows", () => {
    expect(sources.length).toBeGreaterThan(50);
    expect(imports.length).toBeGreaterThan(100);
    expect(imports.map(faultOf).filter((fault) => fault !== null)).toEqual([]);
  });

  it("would see a wrong import, a wrong value import of a types-only folder, and a folder missing from the table", () => {
    expect(
      faultOf({ file: join("engineering", "a.ts"), target: join("plan", "b.ts"), typeOnly: true }),
    ).not.toBeNull();
    expect(
      faultOf({ file: join("screen", "a.ts"), target: join("plan", "b.ts"), typeOnly: false }),
    ).not.toBeNull();
    expect(
      faultOf({ file: join("screen", "a.ts"), target: join("plan", "b.ts"), typeOnly: true }),
    ).toBeNull();
    expect(
      faultOf({ file: join("utils", "a.ts"), target: join("plan", "b.ts"), typeOnly: false }),
    ).not.toBeNull();
    expect(readImports(join(src, "plan", "x.ts"), 'import { type A, b } from "../sheet/table.ts";')).toEqual([
      { file: join("plan", "x.ts"), target: join("sheet", "table.ts"), typeOnly: false },
    ]);
  });

  it("loads lazily only in main, commands and workers", () => {
    const lazy = sources.filter((file) =>
      /\bimport\(/.test(readFileSync(file, "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, "")),
    );
    const outside = lazy
      .map((file) => relative(src, file))
      .filter((file) => file !== "main.ts" && !mayImportLazily.has(folderOf(file)));
    expect(outside).toEqual([]);
  });

  it("asks no clock, locale, time zone or chance anywhere but in main.ts", () => {
    // Intl.Segmenter("en", …) cuts characters by Unicode, the same everywhere.
    const asks =
      /\bDate\.(now|parse)\b|new Date\(\)|Math\.random|\.toLocale|localeCompare|\bIntl\.(?!Segmenter\("en")|\.get(Hours|Date|Day|Month|FullYear|TimezoneOffset)\(/;
    const asking = sources.filter((file) => asks.test(readFileSync(file, "utf8")));
    expect(asking.map((file) => relative(src, file))).toEqual(["main.ts"]);
  });

  it("re-exports nothing and has no folder or file for leftovers", () => {
    const reexporting = sources.filter((file) =>
      /^export\s+(\*|\{[^}]*\})\s+from/m.test(readFileSync(file, "utf8")),
    );
    expect(reexporting).toEqual([]);
    const leftovers = sources.filter((file) =>
      /(^|[\\/])(utils?|helpers?|common|types|constants|index)\.tsx?$/.test(file),
    );
    expect(leftovers).toEqual([]);
  });

  it("keeps the stages of a lateral in order: no stage calls another, types come only from earlier ones", () => {
    const wrong = imports.filter(({ file, target, typeOnly }) => {
      const from = stageFiles.indexOf(file.replace(/^plan[\\/]|\.ts$/g, ""));
      const to = stageFiles.indexOf(target.replace(/^plan[\\/]|\.ts$/g, ""));
      if (from < 0 || to < 0 || folderOf(file) !== "plan") return false;
      // A bid line's key is a name, not a stage.
      return to >= from || !(typeOnly || target.endsWith("bid-lines.ts"));
    });
    expect(wrong).toEqual([]);
  });
});
