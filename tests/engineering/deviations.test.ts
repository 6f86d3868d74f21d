import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Measured, measurements } from "./deviations.ts";

const root = new URL("../..", import.meta.url).pathname;
const page = readFileSync(`${root}shared/docs/equations.md`, "utf8");

interface Row {
  readonly id: string;
  readonly cases: number;
  readonly deviation: number;
}

/** Rows of the page's tables of checks: `| id | … | cases | largest deviation |`; 0.1 % is 0.001. */
const rows: readonly Row[] = [...page.matchAll(/^\| `([^`]+)` \|.*\| (\d+) \| ([\d.e-]+)( %)? \|$/gm)].map(
  ([, id = "", cases, deviation, percent]) => ({
    id,
    cases: Number(cases),
    deviation: Number(deviation) / (percent === undefined ? 1 : 100),
  }),
);

describe("the page of equations", () => {
  it("has a row for every check that is measured here, and no other", () => {
    expect(rows.map(({ id }) => id)).toEqual([...measurements.keys()]);
  });

  it.each([...measurements])("holds for %s: no case is farther off than the page says", (id, measure) => {
    const row = rows.find((found) => found.id === id);
    const found: Measured = measure();
    expect({ id, cases: found.cases }).toEqual({ id, cases: row?.cases });
    expect(found.deviation).toBeLessThanOrEqual(row?.deviation ?? 0);
    // Two digits, rounded up. Below a billionth it is the machine's rounding, and the page gives the next power of ten.
    const said = row?.deviation ?? 0;
    expect(said).toBeLessThanOrEqual(Math.max(found.deviation * 1.1, said <= 1e-9 ? said : 0));
  });

  it("names every file of formulas that the program uses", () => {
    const used = new Set<string>();
    const visit = (folder: string) => {
      for (const entry of readdirSync(folder, { withFileTypes: true })) {
        const path = `${folder}/${entry.name}`;
        if (entry.isDirectory()) {
          if (entry.name !== "engineering") visit(path);
        } else
          for (const [, file] of readFileSync(path, "utf8").matchAll(/engineering\/([a-z-]+\.ts)"/g))
            used.add(file ?? "");
      }
    };
    visit(`${root}src`);
    expect(used.size).toBeGreaterThan(15);
    expect([...used].filter((file) => !page.includes(`\`${file}\``))).toEqual([]);
  });

  it("says which of its values are published and which are ours", () => {
    expect(page).toContain("48 in");
    expect(page).toContain("regression values");
  });
});
