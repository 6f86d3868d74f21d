import { existsSync, readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const root = new URL("..", import.meta.url).pathname;
const read = (file: string) => readFileSync(`${root}${file}`, "utf8");
const wanted = JSON.parse(read("package.json")) as Record<
  "dependencies" | "devDependencies",
  Record<string, string>
>;
interface Locked {
  readonly version: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly optional?: boolean;
  readonly hasInstallScript?: boolean;
}
const lock = JSON.parse(read("package-lock.json")) as { readonly packages: Record<string, Locked> };

/** Rows of the tables of the page: package, version, licence, install script. */
const rows = read("shared/docs/dependencies.md")
  .split("\n")
  .filter((line) => line.startsWith("| `"))
  .map((line) => line.split("|").map((cell) => cell.trim().replaceAll("`", "")))
  .map(([, name = "", version = "", why = "", licence = "", script = "", released = ""]) => ({
    name,
    version,
    why,
    licence,
    script,
    released,
  }));

/** Licences that bind nobody who uses, changes or passes on this program, beyond keeping their notices. */
const FREE = new Set([
  ..."MIT|ISC|0BSD|BSD-3-Clause|Apache-2.0|BlueOak-1.0.0|Unlicense|MIT/X11|(MIT AND Zlib)".split("|"),
  "(MIT OR CC0-1.0)",
]);
/** What is not in that list, one by one, as the page says it. */
const NAMED: Readonly<Record<string, string>> = {
  // Of two licences we take MIT.
  jszip: "(MIT OR GPL-3.0-or-later)",
  // Weak, file by file: it asks for changes of its own files back, and is shipped as it is, beside our bundle.
  "@resvg/resvg-js": "MPL-2.0",
  // The licence of the letters: free to use and pass on; only the fonts may not be sold by themselves.
  "dejavu-fonts-ttf": "SEE LICENSE IN README.md AND LICENSE",
  // It names none, and is in no bundle: see the last test.
  buffers: "",
};

/** Everything that is installed for those who use the program: what is reached from the dependencies. */
const production = Object.entries(lock.packages).filter(([path, { dev }]) => path !== "" && dev !== true);
const nameOf = (path: string): string => path.slice(path.lastIndexOf("node_modules/") + 13);

describe("what the program depends on", () => {
  it("is on the page, each with its version, why, licence and date, and nothing else is", () => {
    const direct = { ...wanted.dependencies, ...wanted.devDependencies };
    expect(rows.map(({ name }) => name).sort()).toEqual(Object.keys(direct).sort());
    for (const { name, version, why, licence, script, released } of rows) {
      expect(version, name).toBe(direct[name]);
      expect(why.length, name).toBeGreaterThan(10);
      const manifest = JSON.parse(read(`node_modules/${name}/package.json`)) as Record<string, unknown>;
      expect(manifest["version"], name).toBe(version);
      expect(licence, name).toContain(
        name === "dejavu-fonts-ttf" ? "Bitstream Vera" : String(manifest["license"]),
      );
      expect(script, name).toBe(lock.packages[`node_modules/${name}`]?.hasInstallScript ? "yes" : "none");
      expect(released, name).toMatch(/^\d{4}-\d{2}-\d{2}$/);
    }
  });

  it("has licences that bind no user, all the way down, by each package's own manifest", () => {
    expect(production.length).toBeGreaterThan(100);
    const strange: string[] = [];
    for (const [path, { optional }] of production) {
      const name = nameOf(path);
      const manifest = `${root}${path}/package.json`;
      // Machine code for other machines is locked and not installed.
      if (!existsSync(manifest)) {
        if (optional !== true) strange.push(`${path} is not installed`);
        continue;
      }
      const { license } = JSON.parse(readFileSync(manifest, "utf8")) as { license?: unknown };
      const said = typeof license === "string" ? license : "";
      const allowed = NAMED[name] ?? (name.startsWith("@resvg/resvg-js-") ? "MPL-2.0" : undefined);
      if (!FREE.has(said) && said !== allowed) strange.push(`${path}: ${JSON.stringify(license)}`);
    }
    expect(strange).toEqual([]);
    const page = read("shared/docs/dependencies.md");
    for (const name of Object.keys(NAMED)) expect(page, name).toContain(name);
  });

  it("runs nothing and downloads nothing when it is installed, but for the bundler of those who build it", () => {
    const scripted = Object.entries(lock.packages).filter(([, { hasInstallScript }]) => hasInstallScript);
    expect(scripted.map(([path]) => path)).toEqual(["node_modules/esbuild"]);
    expect(lock.packages["node_modules/esbuild"]?.dev).toBe(true);
    for (const [path] of production) {
      const manifest = `${root}${path}/package.json`;
      if (!existsSync(manifest)) continue;
      const { scripts = {} } = JSON.parse(readFileSync(manifest, "utf8")) as {
        scripts?: Record<string, string>;
      };
      const atInstall = ["preinstall", "install", "postinstall"].filter((step) => step in scripts);
      expect(atInstall, path).toEqual([]);
    }
  });

  it("is pinned to one version each", () => {
    for (const [name, version] of Object.entries({ ...wanted.dependencies, ...wanted.devDependencies }))
      expect(version, name).toMatch(/^\d+\.\d+\.\d+$/);
  });

  it("leaves out of the bundle what names no licence", () => {
    const dist = `${root}dist`;
    const bundled = existsSync(dist) ? readdirSync(dist).filter((file) => file.endsWith(".js")) : [];
    const texts = bundled.map((file) => readFileSync(`${dist}/${file}`, "utf8"));
    // esbuild says above each file which package it is from.
    expect(texts.some((text) => text.includes("node_modules/exceljs/"))).toBe(true);
    expect(texts.filter((text) => /node_modules\/(buffers|unzipper)\//.test(text))).toEqual([]);
  });
});
