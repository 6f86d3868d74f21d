import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { transformSync } from "esbuild";
import { describe, expect, it } from "vitest";

describe("an input that hangs", () => {
  it("is named, and the run is ended, by a thread that does not hang", () => {
    const { code } = transformSync(readFileSync(new URL("watchdog.ts", import.meta.url), "utf8"), {
      loader: "ts",
    });
    const script = `${code}
      const watchdog = await startWatchdog(400);
      watchdog.begin(41);
      watchdog.begin(42);
      for (;;);`;
    const { signal, stderr } = spawnSync(process.execPath, ["--input-type=module", "-e", script], {
      encoding: "utf8",
      timeout: 30_000,
    });
    expect(stderr).toContain("input 42 hung");
    expect(signal).toBe("SIGKILL");
  });
});
