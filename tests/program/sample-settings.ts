import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach } from "vitest";
import type { Settings } from "../../src/program/settings-schema.ts";

/** An invented program, the smallest that is whole. */
export const smallSettings: Settings = {
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
      host_diameter: { heading: "DIAM", unit: "in" },
      host_length: { heading: "LEN", unit: "ft" },
      host_material: { heading: "MAT" },
    },
  },
};

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

const made: string[] = [];
afterEach(async () => {
  for (const folder of made.splice(0)) await rm(folder, { recursive: true, force: true });
});

export async function emptyFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "wyeplan-test-"));
  made.push(folder);
  return folder;
}

/** A program folder on disk: settings and a city file, no decisions yet. */
export async function programFolder(settings: unknown = smallSettings): Promise<string> {
  const folder = await emptyFolder();
  await writeFile(join(folder, "program.json"), JSON.stringify(settings, null, 2));
  await writeFile(join(folder, "laterals.csv"), "LAT_ID,DIAM,LEN,MAT\r\n00417,4,37.5,VCP\r\n");
  return folder;
}
