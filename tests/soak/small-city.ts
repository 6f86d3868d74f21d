import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";

/** Ids of the invented laterals. */
export const laterals = ["00417", "00418", "00419", "0420", "A-7"] as const;

const SETTINGS = {
  schema: 1,
  name: "Alder Basin laterals",
  as_of: "2026-03-01",
  units: "us",
  currency: "USD",
  laterals: {
    file: "laterals.csv",
    delimiter: ",",
    encoding: "utf-8",
    decimal_mark: ".",
    date_order: "month first",
    columns: {
      lateral: { heading: "LAT_ID" },
      district: { heading: "AREA" },
      host_diameter: { heading: "DIAM", unit: "in" },
      host_length: { heading: "LEN", unit: "ft" },
      host_material: { heading: "MAT" },
      cross_bore: { heading: "XBORE" },
    },
  },
  inspections: {
    file: "inspections.csv",
    delimiter: ",",
    encoding: "utf-8",
    decimal_mark: ".",
    date_order: "month first",
    columns: {
      lateral: { heading: "LAT_ID" },
      inspected_on: { heading: "DATE" },
      structural_grade: { heading: "GRADE" },
    },
    worst_grade: 5,
  },
};

const LATERALS = `LAT_ID,AREA,DIAM,LEN,MAT,XBORE\r\n${laterals
  .map((id, i) => `${id},${i < 3 ? "Mill" : "Harbour"},${i % 2 === 0 ? 4 : 6},${30 + i * 7.5},VCP,cleared`)
  .join("\r\n")}\r\n`;
const INSPECTIONS = `LAT_ID,DATE,GRADE\n${laterals.map((id, i) => `${id},6/1${i}/2024,${i + 1}`).join("\n")}\n`;
/** A later season's surveys, for `wyeplan add`. */
const ADDED = `LAT_ID,DATE,GRADE\n${laterals.map((id, i) => `${id},9/1${i}/2025,${5 - i}`).join("\n")}\n`;

/** The city's files of the small program, byte for byte. */
export const cityFiles = { "laterals.csv": LATERALS, "inspections.csv": INSPECTIONS } as const;
export const settingsText = `${JSON.stringify(SETTINGS, null, 2)}\n`;
export const addedText = ADDED;
export const ADDED_NAME = "winter.csv";

/** A program folder of five invented laterals, small so that a run is mostly start-up and writing. */
export async function makeSmallCity(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  for (const [name, text] of Object.entries(cityFiles)) await writeFile(join(folder, name), text);
  await writeFile(join(folder, "program.json"), settingsText);
}
