import { readFileSync, writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import type { Column } from "../../src/columns/column.ts";
import { inspectionColumns, lateralColumns, observationColumns } from "../../src/columns/lateral-columns.ts";
import { planColumns } from "../../src/columns/plan-columns.ts";
import { isQuantity, quantities } from "../../src/quantity/measure.ts";
import { units } from "../../src/quantity/units.ts";

const page = new URL("../../shared/docs/columns.md", import.meta.url);

/** The page of all columns, made from the dictionary so that it cannot go stale. */
function columnsPage(): string {
  const unit = ({ measure }: Column): string => {
    if (!isQuantity(measure)) return measure;
    const { stored, us, si } = quantities[measure];
    const name = (key: keyof typeof units) => units[key].spellings[0] || key;
    return measure === "money" ? "money" : `${name(us)} / ${name(si)} (kept in ${name(stored)})`;
  };
  const row = (column: Column): string => {
    const words = column.words === undefined ? "" : ` One of: ${column.words.join(", ")}.`;
    return `| \`${column.key}\` | ${column.heading} | ${unit(column)} | ${column.stage} | ${column.help}${words}${column.decidable === true ? " Can be decided." : ""} |`;
  };
  const table = (columns: readonly Column[]) =>
    [
      "| key | heading | unit, US / SI | stage | what it is |",
      "|---|---|---|---|---|",
      ...columns.map(row),
    ].join("\n");
  return `# Columns

Made from the column dictionary (\`src/columns/\`) by \`UPDATE_DOCS=1 npx vitest run --config tests/vitest.config.ts tests/columns\`; a test keeps it true. Keys are the names
used in settings, decisions and formulas.

## Of the city's lateral file

${table(lateralColumns)}

## Of the city's inspection file

${table(inspectionColumns)}

## Of the city's observation file

${table(observationColumns)}

## Worked out by the plan

${table(planColumns)}
`;
}

it("the page of columns says what the dictionary says", () => {
  if (process.env["UPDATE_DOCS"] === "1") writeFileSync(page, columnsPage());
  expect(readFileSync(page, "utf8")).toBe(columnsPage());
});

it("no two columns of the sheet have one key or one heading", () => {
  for (const columns of [
    [...lateralColumns, ...planColumns],
    inspectionColumns,
    observationColumns,
  ] as readonly (readonly Column[])[]) {
    expect(new Set(columns.map(({ key }) => key)).size).toBe(columns.length);
    expect(new Set(columns.map(({ heading }) => heading)).size).toBe(columns.length);
  }
});
