import { join } from "node:path";
import { expect, it } from "vitest";
import { openProgram } from "../../src/commands/open.ts";
import { recorded, SAMPLES } from "./sample-copy.ts";

const commands = ["plan", "season", "workbook"];

it("says that there is no such command or folder, terminal or not", async () => {
  for (const [typed, said] of [
    ["seasn", 'There is no command or folder "seasn". Did you mean wyeplan season?\n'],
    [
      "my-program-of-2031",
      'There is no command or folder "my-program-of-2031". wyeplan --help lists the commands; wyeplan new makes a program of a city\'s CSV files.\n',
    ],
  ] as const) {
    const run = recorded();
    expect(await openProgram(typed, run.io, commands)).not.toBe(0);
    expect(run.said).toMatchObject({ out: "", err: said });
  }
});

it("says what stands in the place of a program, terminal or not", async () => {
  const run = recorded();
  expect(await openProgram(join(SAMPLES, "quennock-falls", "laterals.csv"), run.io, commands)).not.toBe(0);
  expect(run.said.err).toContain('found "a file", expected the folder of a program');
  expect(run.said.err).toContain("wyeplan new NEW-FOLDER --laterals");
});

// A test's own process never has a terminal.
it("says of a program what to do without a terminal", async () => {
  const run = recorded();
  expect(await openProgram(join(SAMPLES, "quennock-falls"), run.io, commands)).not.toBe(0);
  expect(run.said.err).toContain("The sheet needs a terminal.");
});
