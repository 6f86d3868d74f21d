import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import type { CommandIo } from "../../src/commands/command-io.ts";
import { geojsonOf } from "../../src/commands/geojson.ts";
import { boxOf, type LateralFeatures } from "../../src/commands/lateral-features.ts";
import { planFolder } from "../../src/commands/plan.ts";
import { tableOf } from "../../src/commands/table.ts";
import { recorded, SAMPLES, sampleCopy } from "./sample-copy.ts";

describe("wyeplan geojson", () => {
  it("puts every lateral of the samples where their invented grids lie, ids as text", async () => {
    for (const [sample, count, west, south, east, north] of [
      // Quennock Falls: origin 42.5° N 93° W; the corner is 1.28 km east and 118.29 km north of it (city spec), and
      // a degree of latitude is about 111 km there, one of longitude 81 km: 43.56° N, 92.98° W.
      ["quennock-falls", 400, -93, 43.55, -92.9, 43.6],
      // Kaltwendel: origin 47° N 10.5° E; 12.65 km east, 331.2 km north: 49.98° N, 10.68° E.
      ["kaltwendel", 250, 10.6, 49.95, 10.75, 50.05],
    ] as const) {
      const { io, said } = recorded();
      await geojsonOf(join(SAMPLES, sample), {}, io);
      const collection = JSON.parse(said.out) as LateralFeatures;
      expect(collection.features).toHaveLength(count);
      expect(new Set(collection.features.map(({ id }) => id)).size).toBe(count);
      const [w, s, e, n] = collection.bbox!;
      expect([w > west, s > south, e < east, n < north]).toEqual([true, true, true, true]);
      for (const { id, geometry, properties } of collection.features) {
        expect(typeof id).toBe("string");
        expect(properties["treatment"]).toBeTypeOf("string");
        if (geometry === null) continue;
        const [x, y] = geometry.coordinates;
        expect(x >= w && x <= e && y >= s && y <= n).toBe(true);
      }
    }
  });

  it("keeps the zeros of an id, and has no geometry where the city gives no coordinates", async () => {
    const folder = sampleCopy("quennock-falls", () => {});
    const file = join(folder, "laterals.csv");
    writeFileSync(file, readFileSync(file, "utf8").replace(",1204231.33,388116.37,", ",,,"));
    const { io, said } = recorded();
    await geojsonOf(folder, {}, io);
    const { features } = JSON.parse(said.out) as LateralFeatures;
    expect(features[0]?.id).toBe("00101");
    expect(features.filter(({ geometry }) => geometry === null).map(({ id }) => id)).toEqual(["00101"]);
    expect(said.err).toContain("1 lateral(s) without a place, the first is 00101");
  });

  it("refuses coordinates whose system nobody declared, however they look", async () => {
    const folder = sampleCopy("quennock-falls", (settings) => delete settings["coordinates"]);
    const { io, said } = recorded();
    expect(await geojsonOf(folder, {}, io)).toBe(2);
    expect(said.out).toBe("");
    expect(said.err).toContain("the system that the columns x and y are in");
  });

  it("refuses a system in which no lateral has a place", async () => {
    const folder = sampleCopy("quennock-falls", (settings) => {
      settings["coordinates"] = { system: "EPSG:4326" };
    });
    const { io, said } = recorded();
    expect(await geojsonOf(folder, {}, io)).toBe(2);
    expect(said.err).toContain("400 lateral(s) without a place");
  });

  it("goes round the back of the globe where the places do (RFC 7946, 5.2)", () => {
    expect(
      boxOf([
        [179, -17],
        [-179, -16],
      ]),
    ).toEqual([179, -17, -179, -16]);
    expect(boxOf([])).toBeNull();
  });
});

describe("wyeplan table", () => {
  it("lists the sheets, and writes one as CSV with its totals", async () => {
    const { io, said } = recorded();
    expect(await tableOf(join(SAMPLES, "kaltwendel"), undefined, {}, io)).toBe(0);
    expect(said.out.split("\n")).toContain("Bid schedule");
    const { io: other, said: written } = recorded();
    await tableOf(join(SAMPLES, "kaltwendel"), "laterals", {}, other);
    const { data } = Papa.parse<string[]>(written.out, { newline: "\r\n", skipEmptyLines: true });
    expect(data).toHaveLength(251);
    expect(new Set(data.map(({ length }) => length)).size).toBe(1);
    expect(data[0]?.[0]).toBe("Lateral");
  });

  it("writes the number of a line alike on every sheet, so that tables are joined by it: 5.10, not 5.1", async () => {
    const itemsOn = async (sheet: string) => {
      const { io, said } = recorded();
      await tableOf(join(SAMPLES, "quennock-falls"), sheet, {}, io);
      const { data } = Papa.parse<string[]>(said.out, { newline: "\r\n", skipEmptyLines: true });
      const at = data[0]!.findIndex((heading) => heading === "Item" || heading === "Bid items");
      return new Set(data.slice(1).flatMap((row) => row[at]!.split(", ").filter((item) => item !== "")));
    };
    const scheduled = await itemsOn("Lateral schedule");
    expect(scheduled).toContain("5.10");
    for (const sheet of ["Lateral quantities", "bid:Lateral quantities"])
      expect(await itemsOn(sheet)).toEqual(scheduled);
    for (const sheet of ["Bid schedule", "Estimate", "District quantities"])
      expect([...(await itemsOn(sheet))]).toEqual(expect.arrayContaining([...scheduled]));
  }, 60_000);

  it("says which sheets there are when it is asked for another", async () => {
    const { io, said } = recorded();
    expect(await tableOf(join(SAMPLES, "kaltwendel"), "Secrets", {}, io)).toBe(2);
    expect(said.err).toContain('There is no sheet "Secrets"');
    expect(said.err).toContain("Ranking");
  });
});

describe("what may tell of occupants", () => {
  const folder = sampleCopy("quennock-falls", () => {});
  const file = join(folder, "laterals.csv");
  const [title = "", head = "", ...rows] = readFileSync(file, "utf8").split("\n");
  const withTenants = rows.map((row) => (row === "" ? row : `${row.trimEnd()},sentinel-tenant`));
  writeFileSync(file, [title, `${head.trimEnd()},Tenant`, ...withTenants].join("\n"));
  const addresses = rows.join("\n").match(/\d+ [A-Z][a-z]+ (?:St|Ave|Rd|Ln|Dr|Ct|Pl)\b/g)!;
  const outputs = [
    ["geojson", (options: object, io: CommandIo) => geojsonOf(folder, options, io)],
    ["the laterals", (options: object, io: CommandIo) => tableOf(folder, "laterals", options, io)],
    ["plan --json", (options: object, io: CommandIo) => planFolder(folder, { json: true, ...options }, io)],
    ["a sheet", (options: object, io: CommandIo) => tableOf(folder, "Lateral schedule", options, io)],
  ] as const;

  it.each(outputs)("is left out of %s, and that is said", async (_, write) => {
    const { io, said } = recorded();
    await write({}, io);
    expect(addresses.length).toBeGreaterThan(300);
    for (const address of addresses) expect(said.out).not.toContain(address);
    expect(said.out).not.toMatch(/sentinel-tenant|permission_signed/);
    expect(said.err).toMatch(
      /Left out, as they may tell of occupants: Location.*--with-addresses puts them in/,
    );
  });

  it.each(outputs)("is in %s where somebody asks for it, with a word of warning", async (name, write) => {
    const { io, said } = recorded();
    await write({ withAddresses: true }, io);
    expect(addresses.some((address) => said.out.includes(address))).toBe(true);
    expect(said.out.includes("sentinel-tenant")).toBe(name !== "a sheet");
    expect(said.err).toContain("keep it from the public");
  });

  it("is not asked for where no lateral is shown", async () => {
    const { io, said } = recorded();
    expect(await planFolder(folder, { withAddresses: true }, io)).not.toBe(0);
    expect(said).toMatchObject({ out: "", err: expect.stringContaining("--with-addresses is for --json") });
  });
});
