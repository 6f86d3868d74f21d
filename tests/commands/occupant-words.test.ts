import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decideValue } from "../../src/commands/decide.ts";
import { geojsonOf } from "../../src/commands/geojson.ts";
import { decidedProgram } from "../../src/commands/objections.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { reportOf } from "../../src/commands/report.ts";
import { tableOf } from "../../src/commands/table.ts";
import { whyLateral } from "../../src/commands/why.ts";
import { workbookOf } from "../../src/commands/workbook.ts";
import { isoDate } from "../../src/quantity/calendar.ts";
import { zipMembers } from "../workbook/written-book.ts";
import { recorded, sampleCopy } from "./sample-copy.ts";

describe("what people and the city's files say in words of their own", () => {
  const SLIPPED = "12 Sentinel St, J. Roe";
  const STOPPED = "no access: sentinel-tenant refused";
  const DECIDED = "sentinel-owner asked";
  const folder = sampleCopy("quennock-falls", () => {});
  /** An address in the column of diameters, as by a cell too few; why a crew stopped; why somebody decided. */
  beforeAll(async () => {
    const laterals = join(folder, "laterals.csv");
    const rows = readFileSync(laterals, "utf8").split("\n");
    const headings = rows[1]!.split(",");
    const cells = rows[2]!.split(",");
    cells[headings.indexOf("DIAM")] = `"${SLIPPED}"`;
    rows[2] = cells.join(",");
    writeFileSync(laterals, rows.join("\n"));
    const inspections = join(folder, "inspections.csv");
    const surveys = readFileSync(inspections, "utf8");
    // A survey that stopped, and why.
    const stopped = surveys.replaceAll(/,N,[^,"\n]+,/g, `,N,${STOPPED},`);
    expect(stopped).not.toBe(surveys);
    writeFileSync(inspections, stopped);
    const { io } = recorded();
    const decision = { folder, lateral: "00278", column: "host_length", value: "100 ft", reason: DECIDED };
    expect(await decideValue(decision, io, decidedProgram(folder))).toBe(0);
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each(["Problems", "Reasons"])("is left out of the table %s, and that is said", async (sheet) => {
    const { io, said } = recorded();
    await tableOf(folder, sheet, {}, io);
    expect(said.out.length).toBeGreaterThan(500);
    expect(said.out).not.toMatch(/sentinel/i);
    expect(said.err).toContain("Left out, as it may tell of occupants: what people");
  });

  it.each([
    ["Problems", [SLIPPED]],
    ["Reasons", [STOPPED, DECIDED]],
  ])("is in the table %s where somebody asks for it, with a word of warning", async (sheet, words) => {
    const { io, said } = recorded();
    await tableOf(folder, sheet, { withAddresses: true }, io);
    for (const each of words) expect(said.out).toContain(each);
    expect(said.err).toContain("keep it from the public");
  });

  it("is in the plan's JSON only where somebody asks for it, and that is said", async () => {
    const [without, withAll] = [recorded(), recorded()];
    await planFolder(folder, { json: true }, without.io);
    await planFolder(folder, { json: true, withAddresses: true }, withAll.io);
    expect(without.said.out).not.toMatch(/sentinel/i);
    expect(without.said.err).toContain("Left out, as it may tell of occupants: what people");
    expect(withAll.said.out).toContain(SLIPPED);
    expect(withAll.said.err).toContain("keep it from the public");
    // Which problems there are is told all the same.
    const places = ({ out }: { readonly out: string }) =>
      (JSON.parse(out) as { problems: { row: number; column: string }[] }).problems.map(
        ({ row, column }) => `${row} ${column}`,
      );
    expect(places(without.said)).toEqual(places(withAll.said));
  });

  it("is in the JSON of one lateral only where somebody asks for it, as are its address and the days of its permission", async () => {
    const [without, withAll] = [recorded(), recorded()];
    const json = async (run: typeof without, withAddresses: boolean) => {
      await whyLateral(folder, "00278", { json: true, withAddresses }, run.io);
      return JSON.parse(run.said.out);
    };
    const [public_, whole] = [await json(without, false), await json(withAll, true)];
    const { location, permissionSigned } = whole.record.lateral;
    expect(location).toMatch(/\w/);
    expect(permissionSigned.value).toBeGreaterThan(0);
    const signed = isoDate(permissionSigned.value);
    for (const secret of [location, DECIDED, signed]) {
      expect(withAll.said.out).toContain(secret);
      expect(without.said.out).not.toContain(secret);
    }
    expect(without.said.out).not.toContain(String(permissionSigned.value));
    expect(without.said.err).toContain("Left out, as they may tell of occupants: Location");
    expect(withAll.said.err).toContain("keep it from the public");
    // What is planned is the same, and whether it may be scheduled is told all the same.
    const { kind } = whole.record.chosen.permission;
    expect(public_.record.chosen).toEqual({ ...whole.record.chosen, permission: { kind } });
    expect(public_.stages.length).toBe(whole.stages.length);
  });

  it("is in nothing that goes to bidders, to a council or onto a map", async () => {
    const { io, said } = recorded();
    await workbookOf(folder, {}, io);
    await reportOf(folder, {}, io);
    said.out = "";
    await geojsonOf(folder, {}, io);
    const bid = zipMembers(readFileSync(join(folder, "outputs", "bid-book.xlsx")));
    const page = readFileSync(join(folder, "outputs", "report.html"), "utf8");
    for (const [name, text] of [...bid, ["report", page], ["geojson", said.out]] as const)
      expect(/sentinel/i.test(text), name).toBe(false);
    // The city's own book has all of it: the test looks for what is there.
    const own = [...zipMembers(readFileSync(join(folder, "outputs", "planning-book.xlsx"))).values()].join(
      "",
    );
    for (const each of [SLIPPED, STOPPED, DECIDED]) expect(own).toContain(each);
  }, 60_000);
});
