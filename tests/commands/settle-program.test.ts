import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, describe, expect, it } from "vitest";
import { prepareBasis } from "../../src/commands/prepare-basis.ts";
import { Settler } from "../../src/commands/settle-program.ts";
import { type PlannedProgram, planProgram } from "../../src/season/planned-program.ts";
import { numbersOf } from "../../src/sheet/table.ts";
import { usBasis } from "../plan/examples.ts";
import { inventedProgram } from "../screen/invented-program.ts";
import { builtWorker } from "./built-worker.ts";

const folder = await mkdtemp(join(tmpdir(), "wyeplan-settle-"));
afterAll(() => rm(folder, { recursive: true, force: true }));

const built = await builtWorker("settle", folder);

const invented = inventedProgram(1_200);
const decided = (value: number): PlannedProgram => ({
  ...invented,
  tables: {
    ...invented.tables,
    decisions: new Map([["L-0002", new Map([["host_diameter", { value, reason: "seen" }]])]]),
  },
});
/** The program under another recipe and prices, as the sheet has it before it is planned anew. */
async function under(program: PlannedProgram, score: string, prices = usBasis.prices) {
  const prepared = await prepareBasis({ ...usBasis, prices, recipe: { ...usBasis.recipe, score } });
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.faults));
  return { ...program, basis: { ...prepared.basis, fits: program.basis.fits } };
}
/** What is found of a program, without the functions of its formulas and filters. */
const plain = ({ basis, ...found }: PlannedProgram) => ({ ...found, fits: basis.fits });
const afresh = ({ tables, basis }: PlannedProgram) => plain(planProgram(tables, basis, invented));
/** Whether two programs have their offers in the same memory: then they were not planned again. */
function shareOffers(one: PlannedProgram, other: PlannedProgram): boolean {
  const [a, b] = [numbersOf(one.offers, "cost"), numbersOf(other.offers, "cost")];
  const before = a[0]!;
  a[0] = before + 1;
  const isShared = b[0] === before + 1;
  a[0] = before;
  return isShared;
}

describe.each([
  ["in a thread", built],
  ["from source", undefined],
])("Settler %s", (_, file) => {
  const settler = new Settler(file);
  afterEach(() => settler.end());
  const settled = async (program: PlannedProgram): Promise<PlannedProgram> => {
    const found = await settler.settle(program, null, () => {});
    if (found === null) throw new Error("nobody stopped it");
    return found;
  };

  it("plans what was decided, and tells how far it is", async () => {
    const parts: number[] = [];
    const found = await settler.settle(decided(152.4), null, (part) => parts.push(part));
    expect(found && plain(found)).toEqual(afresh(decided(152.4)));
    expect(parts.at(-1)).toBe(1);
  });

  it("only ranks anew where nothing but the recipe is another, and plans where anything else is", async () => {
    const first = await settled(decided(152.4));
    const scored = await settled(await under(first, "likelihood + backups"));
    expect(plain(scored)).toEqual(afresh(await under(first, "likelihood + backups")));
    expect(scored.order).not.toEqual(first.order);
    expect(shareOffers(first, scored)).toBe(true);

    const dearer = Object.fromEntries(Object.entries(usBasis.prices).map(([key, price]) => [key, 2 * price]));
    const priced = await settled(await under(scored, "likelihood", dearer as typeof usBasis.prices));
    expect(plain(priced)).toEqual(afresh(await under(scored, "likelihood", dearer as typeof usBasis.prices)));
    expect(shareOffers(scored, priced)).toBe(false);

    const edited = { ...priced, tables: decided(203.2).tables };
    expect(plain(await settled(edited))).toEqual(afresh(edited));
  });

  it("drops what it does when something else is asked for, and finds that", async () => {
    const first = settler.settle(decided(152.4), null, () => {});
    const second = settler.settle(decided(203.2), null, () => {});
    expect(await first).toBeNull();
    const found = await second;
    expect(found && plain(found)).toEqual(afresh(decided(203.2)));
    const third = settler.settle(decided(152.4), null, () => settler.stop());
    expect(await third).toBeNull();
    expect(plain(await settled(decided(203.2)))).toEqual(afresh(decided(203.2)));
  });

  it("fails with what fails in it, and does the next all the same", async () => {
    const { liners: _gone, ...without } = invented.basis;
    const broken = { ...invented, basis: without as typeof invented.basis };
    await expect(settler.settle(broken, null, () => {})).rejects.toThrow();
    expect(plain(await settled(decided(203.2)))).toEqual(afresh(decided(203.2)));
  });
});
