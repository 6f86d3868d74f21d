import type { PlannedProgram } from "../../src/season/planned-program.ts";
import { planProgram } from "../../src/season/planned-program.ts";
import { usBasis } from "../plan/examples.ts";
import { lateralRow, programTables, type Row, surveyRow } from "../season/examples.ts";

const districts = ["Mill Creek", "Harbour", "川端", "Upper Town"];
const materials = ["clay", "concrete", "cast iron", "PVC"];

/** An invented program of `count` laterals, the same each time: every grade, some never surveyed, values left out. */
export function inventedProgram(count: number, basis = usBasis): PlannedProgram {
  const laterals: Row[] = [];
  const surveys: Row[] = [];
  for (let i = 0; i < count; i++) {
    const id = `L-${String(i + 1).padStart(4, "0")}`;
    laterals.push(
      lateralRow(id, {
        district: districts[i % districts.length]!,
        location: `${100 + i} Weir Street`,
        host_length: 6 + ((i * 7) % 23),
        host_material: i % 9 === 8 ? "" : materials[i % materials.length]!,
        install_year: 1930 + ((i * 13) % 70),
        ...(i % 6 === 5 ? { cross_bore: "" } : {}),
      }),
    );
    if (i % 5 !== 4)
      surveys.push(surveyRow(id, i % 6, (i * 3) % 5, { structural_quick: i % 6 === 4 ? "4100" : "" }));
  }
  return planProgram(programTables(laterals, surveys), basis, {
    problems: [
      {
        severity: "rejected",
        file: "laterals.csv",
        row: 418,
        column: "DIAM",
        found: "100",
        expected: "2 to 12 in",
        remedy: 'If this is millimetres, write "100 mm".',
      },
      {
        severity: "noted",
        file: "laterals.csv",
        row: 12,
        column: "STREET",
        found: "Weir\u001b[2J Street",
        expected: "text without control characters",
        remedy: "The characters are shown as signs.",
      },
    ],
    tallies: [{ file: "laterals.csv", read: count + 3, kept: count, duplicates: 2, rejected: 1 }],
  });
}
