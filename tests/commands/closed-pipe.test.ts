import { spawn } from "node:child_process";
import { once } from "node:events";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { EXIT } from "../../src/commands/command-io.ts";
import { emptyFolder } from "../program/sample-settings.ts";
import { builtProgram } from "../soak/run-program.ts";

it("a command whose notes nobody reads any more (2>&1 | head) does its work to the end", async () => {
  const folder = await emptyFolder();
  const laterals = join(folder, "city.csv");
  await writeFile(laterals, "LATERAL_ID,DIAM_IN,LENGTH_FT\n1,4,30\n");
  const child = spawn(
    process.execPath,
    [builtProgram!, "new", join(folder, "made"), "--laterals", laterals],
    {
      stdio: ["ignore", "ignore", "pipe"],
    },
  );
  child.stderr?.destroy();
  const [code] = await once(child, "exit");
  expect(code).toBe(EXIT.done);
});
