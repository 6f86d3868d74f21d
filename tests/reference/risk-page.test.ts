import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { houseRiskTables } from "../../src/reference/risk-tables.ts";

it("the page of equations has the points of the risk as the table has them", () => {
  const page = readFileSync(new URL("../../shared/docs/equations.md", import.meta.url), "utf8");
  const { likelihood, uninspected, consequence } = houseRiskTables;
  const points = (table: Readonly<Record<string, number>>) =>
    Object.entries(table)
      .map(([word, worth]) => `${word} ${worth}`)
      .join(", ");
  for (const said of [
    `S = ${likelihood.structural.join(", ")};`,
    `O = ${likelihood.om.join(", ")};`,
    `B = ${likelihood.backups.join(", ")} |`,
    `from ${uninspected.bands.map(({ fromAge }) => fromAge).join(", ")} years: A = ${uninspected.bands.map((band) => band.points).join(", ")}; year not known: A = ${uninspected.ageUnknown} |`,
    `w_b = ${consequence.weights.building}, w_s = ${consequence.weights.surface} |`,
    `${points(consequence.building)}; ${points(consequence.surface)};`,
  ])
    expect(page).toContain(said);
});
