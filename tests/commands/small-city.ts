import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Settings } from "../../src/program/settings-schema.ts";
import { emptyFolder, smallSettings } from "../program/sample-settings.ts";

type Headings = Readonly<Record<string, string>>;

/** `MAIN mm` is the heading MAIN of bare numbers in mm. */
const placed = (headings: Headings) =>
  Object.fromEntries(
    Object.entries(headings).map(([key, text]) => {
      const [heading, unit] = text.split(" ");
      return [key, unit === undefined ? { heading } : { heading, unit }];
    }),
  );

/**
 * A program's folder in SI, as of 2026-03-01: laterals as CSV text with the headings of their columns beside LAT_ID, DIAM and LEN, and
 * surveys in one file, where there are any.
 */
export async function cityOf(
  laterals: string,
  columns: Headings = {},
  surveys: { readonly text: string; readonly columns: Headings } | null = null,
  more: Partial<Settings> = {},
): Promise<string> {
  const folder = await emptyFolder();
  const { laterals: small } = smallSettings;
  const file = {
    ...small,
    columns: {
      lateral: { heading: "LAT_ID" },
      host_diameter: { heading: "DIAM", unit: "mm" },
      host_length: { heading: "LEN", unit: "m" },
      ...placed(columns),
    },
  };
  const inspections = surveys && {
    ...small,
    file: "surveys.csv",
    worst_grade: 5,
    columns: {
      lateral: { heading: "LAT_ID" },
      inspected_on: { heading: "SEEN" },
      ...placed(surveys.columns),
    },
  };
  const settings = {
    ...smallSettings,
    units: "si",
    currency: "EUR",
    laterals: file,
    ...(inspections === null ? {} : { inspections }),
    ...more,
  };
  await writeFile(join(folder, "program.json"), JSON.stringify(settings));
  await writeFile(join(folder, "laterals.csv"), laterals);
  if (surveys !== null) await writeFile(join(folder, "surveys.csv"), surveys.text);
  return folder;
}
