import { execFileSync, spawn } from "node:child_process";
import { once } from "node:events";
import { chmod, mkdir, readdir, readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { describeDiskError } from "../../src/commands/disk-error.ts";
import { writeAtomically } from "../../src/program/atomic-write.ts";
import { emptyFolder } from "./sample-settings.ts";

describe("writing a whole file", () => {
  it("replaces it, keeps its mode and leaves nothing beside it", async () => {
    const folder = await emptyFolder();
    const path = join(folder, "program.json");
    await writeAtomically(path, "one");
    await chmod(path, 0o640);
    await writeAtomically(path, new Uint8Array([116, 119, 111]));
    expect(await readFile(path, "utf8")).toBe("two");
    expect((await stat(path)).mode & 0o777).toBe(0o640);
    await writeAtomically(path, async (file) => void (await file.write("three")));
    expect(await readFile(path, "utf8")).toBe("three");
    expect(await readdir(folder)).toEqual(["program.json"]);
  });

  it("leaves the old file when the writing fails", async () => {
    const folder = await emptyFolder();
    const path = join(folder, "program.json");
    await writeAtomically(path, "old");
    const failing = writeAtomically(path, async (file) => {
      await file.write("half");
      throw new Error("disk full");
    });
    await expect(failing).rejects.toThrow("disk full");
    expect(await readFile(path, "utf8")).toBe("old");
    expect(await readdir(folder)).toEqual(["program.json"]);
  });

  it("names the file that it was to write where the disk refuses, not the one beside it", async () => {
    const folder = await emptyFolder();
    // So long that what is added to it is more than a name may have: 255 bytes.
    const long = join(folder, "b".repeat(250));
    await expect(writeAtomically(long, "text")).rejects.toMatchObject({ code: "ENAMETOOLONG", path: long });
    const standing = join(folder, "outputs");
    await mkdir(standing);
    await expect(writeAtomically(standing, "text")).rejects.toMatchObject({ code: "EISDIR", path: standing });
    // A write into an open file, which the system refuses without a name.
    const full = Object.assign(new Error("ENOSPC: no space left on device, write"), {
      code: "ENOSPC",
      syscall: "write",
    });
    const path = join(folder, "bid-book.xlsx");
    const writing = writeAtomically(path, () => Promise.reject(full)).then(() => null, describeDiskError);
    expect(await writing).toBe(`${path}: no space left on the disk.`);
    // What is read meanwhile keeps its own name.
    const other = join(folder, "other.csv");
    const reading = writeAtomically(path, async (file) => void (await file.write(await readFile(other))));
    await expect(reading).rejects.toMatchObject({ code: "ENOENT", path: other });
    expect(await readdir(folder)).toEqual(["outputs"]);
  });

  it("writes into a pipe, and leaves it a pipe", async () => {
    const folder = await emptyFolder();
    const path = join(folder, "pipe");
    execFileSync("mkfifo", [path]);
    const reader = spawn("cat", [path]);
    const said: string[] = [];
    reader.stdout.setEncoding("utf8").on("data", (text: string) => said.push(text));
    await writeAtomically(path, "into it");
    await once(reader, "close");
    expect(said.join("")).toBe("into it");
    expect((await stat(path)).isFIFO()).toBe(true);
    expect(await readdir(folder)).toEqual(["pipe"]);
  });

  it("is never seen half written, and writers at once do not mix", async () => {
    const path = join(await emptyFolder(), "x.json");
    const texts = ["a", "b", "c"].map((letter) => letter.repeat(200_000));
    await writeAtomically(path, texts[0]!);
    const writing = Promise.all(texts.map((text) => writeAtomically(path, text)));
    for (let i = 0; i < 20; i++) expect(texts).toContain(await readFile(path, "utf8"));
    await writing;
    expect(texts).toContain(await readFile(path, "utf8"));
  });

  it("cleans up after a writer that was killed, and after no other", async () => {
    const folder = await emptyFolder();
    const child = spawn(process.execPath, ["-e", "0"]);
    await once(child, "exit");
    const dead = `.program.json.${child.pid}-1.part`;
    const others = [
      `.program.json.${process.ppid}-1.part`,
      `.other.json.${child.pid}-1.part`,
      ".program.json.part",
    ];
    for (const name of [dead, ...others]) await writeFile(join(folder, name), "half");
    await writeAtomically(join(folder, "program.json"), "{}");
    expect((await readdir(folder)).sort()).toEqual([...others, "program.json"].sort());
  });

  it("survives being killed at any moment: the old text or the new one", async () => {
    const folder = await emptyFolder();
    const path = join(folder, "program.json");
    const source = new URL("../../src/program/atomic-write.ts", import.meta.url).pathname;
    const { build } = await import("esbuild");
    const writer = join(folder, "writer.mjs");
    const loop = `import { writeAtomically } from ${JSON.stringify(source)};
      for (let i = 0; ; i++) await writeAtomically(${JSON.stringify(path)}, String(i % 10).repeat(50_000));`;
    await build({
      stdin: { contents: loop, resolveDir: folder },
      bundle: true,
      platform: "node",
      format: "esm",
      outfile: writer,
    });
    await writeFile(path, "9".repeat(50_000));
    for (let round = 0; round < 6; round++) {
      const child = spawn(process.execPath, [writer], { stdio: "ignore" });
      await new Promise((resolve) => setTimeout(resolve, 150 + round * 37));
      child.kill("SIGKILL");
      await once(child, "exit");
      expect(await readFile(path, "utf8")).toMatch(/^(\d)\1{49999}$/);
    }
    await writeAtomically(path, "{}");
    expect((await readdir(folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
  });
});
