import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { hasTmux, TmuxWindow } from "./sheet-in-tmux.ts";

const root = new URL("../..", import.meta.url).pathname;
const built = join(root, "dist/main.js");
if (!hasTmux)
  console.warn("tests/screen/edit-terminal.test.ts is skipped: there is no tmux to run the sheet in.");

/** The sample city's file, read without the program: its districts and lengths have neither quotes nor commas. */
function cityRows(): readonly Readonly<Record<string, string>>[] {
  const text = readFileSync(join(root, "sample-programs/quennock-falls/laterals.csv"), "utf8");
  const [heading = "", ...lines] = text
    .replace(/^\ufeff/, "")
    .trim()
    .split(/\r?\n/);
  const names = heading.split(",");
  return lines.map((line) => Object.fromEntries(line.split(",").map((cell, i) => [names[i], cell])));
}

let folder = "";
let open: TmuxWindow[] = [];

function openSheet(columns = 80, rows = 24): TmuxWindow {
  const window = new TmuxWindow(
    columns,
    rows,
    `WYEPLAN_WHO=tester '${process.execPath}' '${built}' '${folder}'; echo code $?`,
  );
  open.push(window);
  return window;
}

const drawn = (text: string) => text.includes("lateral 1 of 400") || text.includes("1 of 400");
const decisions = () => readFileSync(join(folder, "decisions.csv"), "utf8");
/** To the column of the host's diameter: after the id, rank, risk, treatment, cost and district. */
async function toDiameter(window: TmuxWindow): Promise<void> {
  window.press(...Array<string>(6).fill("Right"));
  await window.see((text) => /^Host dia\.: /m.test(text));
}

describe.skipIf(!hasTmux || !existsSync(built))("the built sheet in a terminal", () => {
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "wyeplan-edit-"));
    cpSync(join(root, "sample-programs/quennock-falls"), folder, { recursive: true });
  });
  afterEach(() => {
    for (const window of open) window.close();
    open = [];
    rmSync(folder, { recursive: true, force: true });
  });

  it.each([
    [80, 24],
    [160, 50],
    [240, 70],
  ])(
    "decides a value in a window of %i by %i, and keeps it through a kill and a restart",
    async (columns, rows) => {
      const window = openSheet(columns, rows);
      await window.see(drawn);
      await toDiameter(window);
      window.press("Down");
      const [id = ""] =
        /\S+/.exec((await window.see((t) => t.includes("2 of 400")))[4]!.replace(/^>/, "")) ?? [];
      window.type("6");
      await window.see((text) => text.includes("takes it as 6.0 in"));
      window.press("Enter");
      await window.see((text) => text.includes("Why:"));
      window.type("camera 2026");
      window.press("Enter");
      const decided = await window.see((text) => text.includes("(decision 1)"));
      expect(decided).toHaveLength(rows);
      expect(decided[4]).toMatch(new RegExp(`^> ${id} .*\\[ *6\\.0\\*\\]`));
      // What the screen says is done is on the disk: nothing is lost when the process is killed now.
      expect(decisions()).toContain(`${id},host_diameter,6 in,camera 2026`);
      process.kill(window.child, "SIGKILL");
      await window.see((text) => text.includes("code 137"));

      const again = openSheet(columns, rows);
      await again.see(drawn);
      await toDiameter(again);
      again.press("i");
      again.type(id);
      again.press("Enter");
      await again.see((text) => text.includes("* decided: camera 2026"));
      // Undo reaches back over the restart.
      again.press("C-z");
      await again.see((text) => text.includes(`${id}, Host dia.: as given`));
      again.press("C-y");
      await again.see((text) => text.includes(`${id}, Host dia.: 6 in`));
      again.press("q");
      await again.see((text) => text.includes("code 0"));
      expect(existsSync(join(folder, ".wyeplan-lock"))).toBe(false);
    },
  );

  it("groups by district with the subtotals of the city's own file", async () => {
    const districts = new Map<string, number>();
    const rows = cityRows();
    const column = Object.keys(rows[0]!).find((name) => rows.some((row) => /^LS-?\d+$/i.test(row[name]!)))!;
    for (const row of rows) districts.set(row[column]!, (districts.get(row[column]!) ?? 0) + 1);
    const window = openSheet(120, 40);
    await window.see(drawn);
    window.press("Right", "Right", "Right", "Right", "Right", "g");
    const grouped = await window.see((text) => text.includes("in groups of District"));
    const named = grouped.flatMap((line) => {
      const found = /› (LS-\d+) \((\d+)\)/.exec(line);
      return found === null ? [] : [[found[1], Number(found[2])] as const];
    });
    expect(named.length).toBeGreaterThan(3);
    for (const [name, count] of named) {
      // The city writes some districts in several ways; none has fewer than its commonest spelling.
      expect(count).toBeGreaterThanOrEqual(districts.get(name!) ?? 0);
    }
    const sum = grouped.reduce((all, line) => all + Number(/› .* \((\d+)\)/.exec(line)?.[1] ?? 0), 0);
    expect(sum).toBe(400);
  });

  it("pastes a block whole, refuses a paste with a problem, and filters by a formula once it is right", async () => {
    const window = openSheet();
    await window.see(drawn);
    await toDiameter(window);
    window.paste("4 in\n8\n");
    await window.see((text) => text.includes("2 values"));
    window.type("as built");
    window.press("Enter");
    await window.see((text) => text.includes("2 values decided; change set 1."));
    expect(decisions().match(/host_diameter,(4|8) in,as built/g)).toHaveLength(2);
    window.paste("4 in\n8 gal\n");
    await window.see((text) => text.includes("Nothing was changed: 1 problem"));
    expect(decisions().match(/as built/g)).toHaveLength(2);
    // Esc and a letter in one write are one key with Alt: each is waited for.
    window.press("Escape");
    await window.see((text) => !text.includes("Nothing was changed"));
    window.press("o");
    window.type("host_diameter > 5 and known(backups)");
    const refused = await window.see((text) => text.includes("5 has no unit; write 5 in or 5 mm."));
    const at = refused.findIndex((line) => line.startsWith("Only laterals for which: "));
    expect(refused[at + 1]!.indexOf("^")).toBe(refused[at]!.indexOf(" 5 ") + 1);
    window.press("Escape");
    await window.see((text) => !text.includes("Only laterals for which: "));
    window.press("o");
    window.type("host_diameter > 5 in and known(backups)");
    await window.see((text) => text.includes("gives yes or no"));
    window.press("Enter");
    await window.see((text) => /lateral \d+ of (?!400)\d+$/m.test(text));
    window.press("C-c");
    await window.see((text) => text.includes("code 0"));
  });

  it("opens for looking only while somebody else has it open, and says who", async () => {
    const first = openSheet();
    await first.see(drawn);
    const second = openSheet();
    const looking = await second.see((text) => text.includes("Read only. Another wyeplan writes here"));
    expect(looking.join("\n")).toContain("read only");
    await toDiameter(second);
    second.type("6");
    await second.see((text) => text.includes("Read only."));
    first.press("q");
    await first.see((text) => text.includes("code 0"));
  });

  it("adds a column by a formula and keeps it in program.json", async () => {
    const window = openSheet(120, 30);
    await window.see(drawn);
    window.press("c");
    window.type("per_length");
    window.press("Enter");
    window.type("cost / host_len");
    await window.see((text) => text.includes("[host_length]"));
    window.press("Tab");
    await window.see((text) => text.includes("cost / host_length") && text.includes("^"));
    // Money over a length has no measure of its own: the sheet says what to write, under the character.
    window.type(" * (1 ft)");
    await window.see((text) => text.includes("gives money"));
    window.press("Enter");
    const added = await window.see((text) => text.includes("in program.json (recipe.columns)"));
    expect(added[1]).toContain("per_length");
    const before = JSON.parse(
      readFileSync(join(root, "sample-programs/quennock-falls/program.json"), "utf8"),
    );
    const after = JSON.parse(readFileSync(join(folder, "program.json"), "utf8"));
    before.recipe.columns.per_length = "cost / host_length * (1 ft)";
    expect(after).toEqual(before);
  });
});
