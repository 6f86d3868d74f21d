import { appendFile, readdir, readFile, symlink, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ChangeSet, changeSetLines, type NewChange } from "../../src/program/change-sets.ts";
import { appendChangeSet, readDecisionLog } from "../../src/program/decision-log.ts";
import { readLogBytes } from "../../src/program/decision-log-text.ts";
import { currentDecisions } from "../../src/program/decisions.ts";
import { takeLock } from "../../src/program/lock.ts";
import { escaped, logHeading, ownForm, unescaped, writeLine } from "../../src/program/log-lines.ts";
import { bytesOf, emptyFolder } from "./sample-settings.ts";

const stamp = { when: "2026-03-01T08:00:00Z", who: "R. Ames" };
const set = (lateral: string, value: string, reason = "seen on site", column = "host_diameter") =>
  ({ kind: "set", decisions: [{ lateral, column, value, reason }] }) as const;

/** Closed sets with what they say, without the lines they stand on: those a spreadsheet may move. */
const meaning = (sets: readonly ChangeSet[]) =>
  JSON.parse(JSON.stringify(sets, (key, value: unknown) => (key === "row" ? undefined : value))) as unknown[];

const anyText = fc.oneof(
  fc.string({ unit: "binary", minLength: 1, maxLength: 12 }),
  fc.constantFrom(
    "line\nline",
    "C:\\new",
    '"quoted", and; so\ton',
    "\r\n",
    " spaces ",
    "=1+1",
    "\u2028",
    "é, 雨",
    "\ud800",
  ),
);
const change: fc.Arbitrary<NewChange> = fc.oneof(
  fc.record({
    kind: fc.constant("set" as const),
    records: fc.array(
      fc.record({ lateral: anyText, column: fc.constant("backups"), value: anyText, reason: anyText }),
      {
        minLength: 1,
        maxLength: 3,
      },
    ),
  }),
  fc.record({
    kind: fc.constantFrom("undo" as const, "redo" as const),
    target: fc.integer({ min: 1, max: 99 }),
  }),
);

/** A log of these changes, and the byte at which each set is whole (its line end not counted). */
function logOf(changes: readonly NewChange[], who = stamp.who) {
  let text = logHeading;
  let id = 1;
  const wholeAt: number[] = [];
  changes.forEach((one, i) => {
    text += changeSetLines(one, { ...stamp, who }, id, i + 1)
      .map((line) => writeLine(line, ownForm))
      .join("");
    id += (one.kind === "set" ? one.records.length : 1) + 1;
    wholeAt.push(bytesOf(text).length - 1);
  });
  return { bytes: bytesOf(text), text, wholeAt };
}

describe("decisions.csv as text", () => {
  it("is what a person can read", () => {
    const one = { lateral: "00417", column: "host_diameter", value: "6 in", reason: 'measured, "twice"' };
    const [heading, first, close, rest] = logOf([{ kind: "set", records: [one] }]).text.split("\n");
    expect(heading).toBe("id,change_set,kind,target,when,who,lateral,column,value,reason");
    expect(first).toBe(
      '1,1,set,,2026-03-01T08:00:00Z,R. Ames,00417,host_diameter,6 in,"measured, ""twice"""',
    );
    expect(close).toMatch(/^2,1,close,,2026-03-01T08:00:00Z,R\. Ames,,,1 record,sha256:[0-9a-f]{16}$/);
    expect(rest).toBe("");
  });

  it("keeps any text on one line and gives it back", () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(unescaped(escaped(text))).toBe(text);
        expect(escaped(text)).not.toMatch(/[\n\r\u2028]/);
      }),
    );
    expect(escaped("a\nb")).toBe("a\\nb");
    expect(unescaped("C:\\projects")).toBe("C:\\projects"); // a lone backslash somebody typed in a spreadsheet
  });

  it("gives back every change as it was written, one physical line a record", () => {
    fc.assert(
      fc.property(fc.array(change, { maxLength: 6 }), anyText, (changes, who) => {
        const { bytes, text } = logOf(changes, who);
        const log = readLogBytes(bytes);
        expect(log.problems).toEqual([]);
        expect(log.sets).toHaveLength(changes.length);
        log.sets.forEach((found, i) => {
          expect(found).toMatchObject({ number: i + 1, when: stamp.when, who });
          const wanted = changes[i]!;
          if (wanted.kind === "set") expect(found).toMatchObject({ records: wanted.records });
          else expect(found).toMatchObject(wanted);
        });
        const records = changes.reduce((n, one) => n + (one.kind === "set" ? one.records.length : 1) + 1, 1);
        expect(text.split("\n")).toHaveLength(records + 1);
      }),
      { numRuns: 300 },
    );
  });

  it("cut at any byte, never loses a set closed before the cut and never half-applies one", () => {
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 4 }), (changes) => {
        const { bytes, wholeAt } = logOf(changes);
        const all = readLogBytes(bytes).sets;
        for (let cut = 0; cut <= bytes.length; cut++) {
          const log = readLogBytes(bytes.subarray(0, cut));
          const expected = wholeAt.filter((end) => end <= cut).length;
          expect(log.sets).toEqual(all.slice(0, expected));
          expect(log.problems.every(({ severity }) => severity === "noted")).toBe(true);
          // A clean cut leaves nothing to put aside; any other is said.
          const clean =
            cut === 0 ||
            [logHeading.length - 1, logHeading.length, ...wholeAt, ...wholeAt.map((end) => end + 1)].includes(
              cut,
            );
          expect(log.torn).toBe(!clean);
          expect(log.problems).toHaveLength(clean ? 0 : 1);
        }
      }),
      { numRuns: 25 },
    );
  });

  it("with any byte changed, applies no set that is not exactly as written", () => {
    fc.assert(
      fc.property(
        fc.array(change, { minLength: 1, maxLength: 3 }),
        fc.nat(),
        fc.nat(255),
        (changes, at, byte) => {
          const { bytes } = logOf(changes);
          const all = meaning(readLogBytes(bytes).sets);
          const damaged = bytes.slice();
          damaged[at % bytes.length] = byte;
          for (const found of meaning(readLogBytes(damaged).sets)) expect(all).toContainEqual(found);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe("a log that somebody saved in a spreadsheet", () => {
  const { text, bytes } = logOf([
    { kind: "set", records: [{ lateral: "00417", column: "backups", value: "2", reason: "a; b, é" }] },
    { kind: "undo", target: 1 },
    { kind: "set", records: [{ lateral: "2", column: "backups", value: "1", reason: "two\nlines" }] },
  ]);
  const plain = meaning(readLogBytes(bytes).sets);
  const rows = text
    .trimEnd()
    .split("\n")
    .map((line) =>
      line
        .match(/("([^"]|"")*"|[^,]*)(,|$)/g)!
        .slice(0, 10)
        .map((cell) => cell.replace(/,$/, "")),
    );
  const form = (order: readonly number[], delimiter: string, newline: string, quote: boolean) =>
    rows
      .map(
        (cells) =>
          order
            .map((i) => cells[i]!)
            .map((cell) => (quote && !cell.startsWith('"') ? `"${cell}"` : cell))
            .join(delimiter) + newline,
      )
      .join("");
  const usual = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];

  it.each([
    ["CRLF and a byte order mark", `\ufeff${form(usual, ",", "\r\n", false)}`],
    ["columns in another order", form([...usual].reverse(), ",", "\n", false)],
    ["quotes around everything", form(usual, ",", "\n", true)],
    ["semicolons", form(usual, ";", "\r\n", false)],
    ["no final line end", text.trimEnd()],
    ["empty lines", `${text.replaceAll("\n", "\n\n")},,,,\n`],
    [
      "rows in another order",
      [text.split("\n")[0], ...text.trimEnd().split("\n").slice(1).reverse(), ""].join("\n"),
    ],
    ["a column of its own", text.replace(/^(?=.)/gm, "x,")],
  ])("is read alike with %s, and continued in its form", async (_, saved) => {
    const log = readLogBytes(bytesOf(saved));
    expect(log.problems).toEqual([]);
    expect(meaning(log.sets)).toEqual(plain);

    const folder = await emptyFolder();
    await writeFile(join(folder, "decisions.csv"), saved);
    const attempt = await takeLock(folder, stamp.when);
    if (!attempt.ok) throw new Error("locked");
    const appended = await appendChangeSet(attempt.lock, set("7", "4 in"), stamp);
    expect(appended.ok).toBe(true);
    await attempt.lock.release();
    const after = await readFile(join(folder, "decisions.csv"), "utf8");
    expect(after.startsWith(saved)).toBe(true);
    const again = await readDecisionLog(folder);
    expect(again.problems).toEqual([]);
    expect(again.sets).toContainEqual(appended.ok && appended.written);
    expect(again.sets).toHaveLength(4);
  });

  it("is refused where the spreadsheet lost something: leading zeros of an id", async () => {
    const folder = await emptyFolder();
    const path = join(folder, "decisions.csv");
    const spoiled = text.replace(",00417,", ",417,");
    await writeFile(path, spoiled);
    const log = await readDecisionLog(folder);
    expect(log.sets.map(({ number }) => number)).toEqual([2, 3]);
    expect(log.problems).toMatchObject([
      { severity: "rejected", row: 2, found: "change set 1, which is not as it was written" },
    ]);
    const attempt = await takeLock(folder, stamp.when);
    if (!attempt.ok) throw new Error("locked");
    expect(await appendChangeSet(attempt.lock, set("7", "4 in"), stamp)).toMatchObject({ ok: false });
    await attempt.lock.release();
    expect(await readFile(path, "utf8")).toBe(spoiled);
  });

  it.each([
    ["saved as UTF-16", Buffer.from(`\ufeff${text}`, "utf16le")],
    ["without its heading", Buffer.from(text.slice(text.indexOf("\n") + 1))],
    ["a line cut out of a set", Buffer.from(text.split("\n").toSpliced(1, 1).join("\n"))],
    ["a closing line cut out of the middle", Buffer.from(text.split("\n").toSpliced(2, 1).join("\n"))],
    ["a set pasted twice", Buffer.from(text + text.slice(text.indexOf("\n") + 1))],
    ["saved in another character set", Buffer.from(text, "latin1")],
  ])("is refused %s, without touching it", (_, saved) => {
    expect(readLogBytes(saved).problems.some(({ severity }) => severity === "rejected")).toBe(true);
  });
});

describe("decisions.csv on disk", () => {
  const locked = async (folder: string) => {
    const attempt = await takeLock(folder, stamp.when);
    if (!attempt.ok) throw new Error("locked");
    return attempt.lock;
  };

  it("begins empty, and takes decisions, undos and redos", async () => {
    const folder = await emptyFolder();
    expect((await readDecisionLog(folder)).sets).toEqual([]);
    const lock = await locked(folder);
    const written = async () =>
      currentDecisions(await readDecisionLog(folder))
        .get("00417")
        ?.get("host_diameter")?.written;
    expect((await appendChangeSet(lock, { kind: "undo" }, stamp)).ok).toBe(false);
    expect((await appendChangeSet(lock, set("00417", " 6 in "), stamp)).ok).toBe(true);
    expect(await written()).toBe("6 in");
    expect(await appendChangeSet(lock, { kind: "undo" }, stamp)).toMatchObject({
      ok: true,
      written: { target: 1 },
    });
    expect(await written()).toBeUndefined();
    expect((await appendChangeSet(lock, { kind: "redo" }, stamp)).ok).toBe(true);
    expect(await written()).toBe("6 in");
    expect((await appendChangeSet(lock, { kind: "redo" }, stamp)).ok).toBe(false);
    await lock.release();
  });

  it("takes nothing of a set of which one decision may not stand", async () => {
    const folder = await emptyFolder();
    const lock = await locked(folder);
    const two = {
      kind: "set",
      decisions: [...set("1", "6 in").decisions, ...set("2", "6").decisions],
    } as const;
    expect(await appendChangeSet(lock, two, stamp)).toMatchObject({ ok: false });
    expect(await appendChangeSet(lock, set("1", "as given"), stamp)).toMatchObject({ ok: false });
    expect((await readDecisionLog(folder)).sets).toEqual([]);
    await lock.release();
  });

  it("puts a torn end aside before it goes on, and loses no byte", async () => {
    const folder = await emptyFolder();
    const path = join(folder, "decisions.csv");
    const lock = await locked(folder);
    await appendChangeSet(lock, set("1", "6 in"), stamp);
    const whole = await readFile(path);
    await appendChangeSet(lock, set("2", "8 in"), stamp);
    const both = await readFile(path);
    for (const [number, cut] of [both.length - 3, whole.length + 20, whole.length + 1].entries()) {
      await writeFile(path, both.subarray(0, cut));
      expect((await readDecisionLog(folder)).problems).toMatchObject([{ severity: "noted" }]);
      expect(await appendChangeSet(lock, set("3", "4 in"), stamp)).toMatchObject({
        ok: true,
        written: { number: 2 },
      });
      const aside = await readFile(join(folder, `decisions.torn-${number + 1}.csv`));
      expect(Buffer.concat([whole, aside])).toEqual(both.subarray(0, cut));
      const log = await readDecisionLog(folder);
      expect(log.problems).toEqual([]);
      expect([...currentDecisions(log).keys()]).toEqual(["1", "3"]);
    }
    await lock.release();
  });

  it("puts the same torn end aside once, when a kill came before it was cut", async () => {
    const folder = await emptyFolder();
    const lock = await locked(folder);
    await appendChangeSet(lock, set("1", "6 in"), stamp);
    await appendFile(join(folder, "decisions.csv"), "3,2,set,,20");
    await writeFile(join(folder, "decisions.torn-1.csv"), "3,2,set,,20");
    await appendChangeSet(lock, set("2", "6 in"), stamp);
    expect((await readdir(folder)).filter((name) => name.includes("torn"))).toEqual(["decisions.torn-1.csv"]);
    await lock.release();
  });

  it("completes a heading that a kill has cut", async () => {
    const folder = await emptyFolder();
    await writeFile(join(folder, "decisions.csv"), logHeading);
    await truncate(join(folder, "decisions.csv"), 11);
    const lock = await locked(folder);
    expect((await appendChangeSet(lock, set("1", "6 in"), stamp)).ok).toBe(true);
    expect((await readFile(join(folder, "decisions.csv"), "utf8")).startsWith(logHeading)).toBe(true);
    await lock.release();
  });

  it("does not follow a link out of the folder", async () => {
    const folder = await emptyFolder();
    const outside = join(await emptyFolder(), "other.csv");
    await writeFile(outside, logHeading);
    await symlink(outside, join(folder, "decisions.csv"));
    const lock = await locked(folder);
    expect(await appendChangeSet(lock, set("1", "6 in"), stamp)).toMatchObject({ ok: false });
    expect(await readFile(outside, "utf8")).toBe(logHeading);
    await lock.release();
  });

  it("throws when the command gives no time in UTC", async () => {
    const lock = await locked(await emptyFolder());
    await expect(appendChangeSet(lock, set("1", "6 in"), { when: "yesterday", who: "x" })).rejects.toThrow(
      RangeError,
    );
    await expect(appendChangeSet(lock, set("1", "6 in"), { when: stamp.when, who: " " })).rejects.toThrow(
      RangeError,
    );
    await lock.release();
  });
});
