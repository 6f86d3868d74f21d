import { execFileSync } from "node:child_process";
import { readFile, writeFile } from "node:fs/promises";
import { userInfo } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { emptyFolder, smallSettings } from "../program/sample-settings.ts";
import { builtProgram } from "../soak/run-program.ts";

it("a decision is the machine's user's where no variable names one, as in a container", async () => {
  const folder = await emptyFolder();
  await writeFile(join(folder, "program.json"), JSON.stringify(smallSettings));
  await writeFile(join(folder, "laterals.csv"), "LAT_ID,DIAM,LEN,MAT\n00417,4,37.5,VCP\n");
  const { USER, USERNAME, WYEPLAN_WHO, ...env } = process.env;
  const args = [builtProgram!, "decide", folder, "00417", "host_diameter", "6 in", "--reason", "measured"];
  execFileSync(process.execPath, args, { env });
  expect(await readFile(join(folder, "decisions.csv"), "utf8")).toContain(
    `,${userInfo().username},00417,host_diameter,6 in,measured\n`,
  );
});
