import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { Settler } from "../../src/commands/settle-program.ts";
import { workBeside } from "../../src/commands/thread-work.ts";
import { inventedProgram } from "../screen/invented-program.ts";
import { builtWorker } from "./built-worker.ts";

const folder = await mkdtemp(join(tmpdir(), "wyeplan-threads-"));
afterAll(() => rm(folder, { recursive: true, force: true }));

/** A worker that ends at its first job without an error, as one does that is stopped from within. */
const exiting = join(folder, "exiting.mjs");
await writeFile(
  exiting,
  'import { parentPort } from "node:worker_threads"; parentPort.once("message", () => process.exit(0));',
);
const program = inventedProgram(20);
const asked = { what: "season", folder } as const;

describe("A thread that ends without an answer and without an error", () => {
  it("fails the plan that waits for it, and the next plan starts another thread", async () => {
    const settler = new Settler(pathToFileURL(exiting));
    for (let time = 0; time < 2; time++)
      await expect(settler.settle(program, null, () => {})).rejects.toThrow("ended with code 0");
    settler.end();
  });

  it("fails the pane that waits for it", async () => {
    await expect(workBeside(asked, program, pathToFileURL(exiting)).found).rejects.toThrow(
      "ended with code 0",
    );
  });

  it("is no failure of a pane that has its answer, or that nobody waits for any more", async () => {
    const worker = await builtWorker("pane-worker", folder);
    expect((await workBeside(asked, program, worker).found).what).toBe("season");
    const dropped = workBeside(asked, program, worker);
    dropped.stop();
    // A rejection would come with the thread's end, which takes it some ten milliseconds.
    const later = new Promise((resolve) => setTimeout(resolve, 500, "nothing came"));
    expect(await Promise.race([dropped.found, later])).toBe("nothing came");
  });
});
