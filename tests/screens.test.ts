import { readFileSync, writeFileSync } from "node:fs";
import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { LiveProgram, noPlace } from "../src/commands/live-program.ts";
import { loadProgram } from "../src/commands/load-program.ts";
import { planFolder } from "../src/commands/plan.ts";
import { seasonOfFolder } from "../src/commands/season.ts";
import { drawFrame } from "../src/screen/draw-frame.ts";
import { textOfLine } from "../src/screen/line.ts";
import type { Effect } from "../src/screen/session.ts";
import { type Action, startSession } from "../src/screen/session.ts";
import { step } from "../src/screen/step.ts";

const PAGE = new URL("../shared/docs/screens.md", import.meta.url);
const size = { columns: 100, rows: 30 };

const show = (pane: Extract<Action, { kind: "show pane" }>["pane"]): Action => ({ kind: "show pane", pane });
const down: Action = { kind: "move rows", by: 1 };
const type = (text: string): Action => ({ kind: "type", text });
const enter: Action = { kind: "enter" };
const accept: Action = { kind: "accept" };

/** The pictures, in order: what is said of each, and what is done to see it. */
const pictures: readonly {
  readonly heading: string;
  readonly words: string;
  readonly does: readonly Action[];
}[] = [
  {
    heading: "First steps",
    words:
      "A program in which nothing was decided or saved yet. The next key closes them and does what it does.",
    does: [],
  },
  {
    heading: "Why",
    words: "`w`. Every stage of the lateral's plan; Tab lets the arrows scroll it.",
    does: [down, show("why")],
  },
  {
    heading: "Map",
    words:
      "`k`. Digits are fifths of the ranking, so it needs no colour; X is the lateral under the cursor; `z` narrows it to its district.",
    does: [down, show("map")],
  },
  { heading: "Map of one district", words: "`k`, then `z`.", does: [down, show("map"), { kind: "zoom" }] },
  {
    heading: "Likelihood and consequence",
    words: "`x`. In brackets the field of the lateral under the cursor.",
    does: [down, show("risk")],
  },
  {
    heading: "Season",
    words:
      "`y`. The season saved last (`wyeplan season --save`): why the lateral under the cursor is in or out, worth by money spent, the weeks of the crews.",
    does: [down, show("season"), { kind: "change focus" }],
  },
  {
    heading: "Weeks of the crews",
    words: "`y`, scrolled to its end.",
    does: [show("season"), { kind: "change focus" }, { kind: "go to row", end: "last" }],
  },
  { heading: "Bid schedule", words: "`u`.", does: [show("bid")] },
  { heading: "Districts", words: "`d`.", does: [show("districts")] },
  {
    heading: "Problems",
    words: "`p`. Enter goes to the lateral of the line with the sign.",
    does: [show("problems"), down],
  },
  {
    heading: "What moved",
    words:
      "`j`. Since the run saved last (`wyeplan plan --save`, `add` and `remove`, and changes of the recipe save one). Here the as-of date was moved.",
    does: [show("moved")],
  },
  { heading: "Recipe", words: "`%`. Enter on a value changes it on trial.", does: [show("recipe")] },
  {
    heading: "A change of the recipe on trial",
    words:
      "What it would move is worked out beside the sheet; program.json is written only when it is accepted with a reason.",
    does: [show("recipe"), down, down, enter, type("likelihood * consequence ^ 2"), accept],
  },
  {
    heading: "Everything that can be done",
    words: "Space, then words of it.",
    does: [{ kind: "ask", what: "actions" }, type("pane")],
  },
  { heading: "Help", words: "`?`.", does: [show("help")] },
];

const HEAD = `# Screens

Every pane of the sheet as the program draws it over the sample \`quennock-falls\`, 100 columns by 30 lines. \`npm test\` holds
these pictures to the program (\`tests/screens.test.ts\`); \`UPDATE_DOCS=1\` with that test makes them anew.
`;

let page = "";
let home = "";

beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), "wyeplan-screens-"));
  try {
    page = await makePage();
  } finally {
    await rm(home, { recursive: true, force: true });
  }
  if (process.env["UPDATE_DOCS"] === "1") writeFileSync(PAGE, page);
}, 240_000);

describe("shared/docs/screens.md", () => {
  it.each(pictures.map(({ heading }) => heading))("shows %s as it is", (heading) => {
    const part = (text: string) => text.split("\n## ").find((each) => each.startsWith(`${heading}\n`));
    expect(part(readFileSync(PAGE, "utf8"))).toBe(part(page));
  });
});

async function makePage(): Promise<string> {
  const folder = join(home, "quennock-falls");
  await cp(new URL("../sample-programs/quennock-falls", import.meta.url).pathname, folder, {
    recursive: true,
  });
  const io = { out: () => {}, err: () => {}, now: () => "2026-03-02T08:00:00Z", who: "a planner" };
  await planFolder(folder, { save: "march" }, io);
  await seasonOfFolder(folder, { save: "first try" }, io);
  const settings = JSON.parse(readFileSync(join(folder, "program.json"), "utf8"));
  writeFileSync(join(folder, "program.json"), JSON.stringify({ ...settings, as_of: "2027-03-01" }));

  const loaded = await loadProgram(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  const parts = [];
  for (const { heading, words, does } of pictures) {
    const isNew = heading === "First steps";
    parts.push(
      `## ${heading}\n\n${words}\n\n\`\`\`text\n${await drawn(folder, loaded.program, does, isNew)}\n\`\`\`\n`,
    );
  }
  return [HEAD, ...parts].join("\n");
}

async function drawn(
  folder: string,
  program: ConstructorParameters<typeof LiveProgram>[0],
  does: readonly Action[],
  isNew: boolean,
): Promise<string> {
  const live = new LiveProgram(program, { kind: "look", because: "" }, () => {}, {
    ...noPlace,
    folder,
    isNew,
  });
  live.onFailure = (error) => {
    throw error;
  };
  // As it is opened by its one writer.
  const sheet = new Proxy(live.view, {
    get: (view, key) => (key === "closedBecause" ? null : Reflect.get(view, key)),
  });
  let session = startSession(sheet);
  const perform = async (effects: readonly Effect[]) => {
    for (const effect of effects)
      if (effect.kind === "try recipe")
        session = step(session, await live.perform(effect), size, sheet).session;
  };
  const lines = () => drawFrame(session, sheet, size).map((line) => textOfLine(line).trimEnd());
  for (const action of does) {
    const stepped = step(session, action, size, sheet);
    session = stepped.session;
    await perform(stepped.effects);
    // What is worked out beside the sheet is waited for, as somebody would.
    for (let waited = 0; waited < 600 && lines().some((line) => /(^|│ )working/.test(line)); waited++)
      await new Promise((resolve) => setTimeout(resolve, 50));
  }
  const text = lines().join("\n");
  live.close();
  return text;
}
