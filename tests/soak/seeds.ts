import { readdirSync, readFileSync } from "node:fs";

/** The project's folder, from the tests and from the built soak alike. */
export const root = new URL(import.meta.url.endsWith(".ts") ? "../.." : "..", import.meta.url).pathname;

/** Inputs that once did harm, or look as if they might, by the beginning of their names. */
export function keptSeeds(of: string): readonly Uint8Array[] {
  const folder = `${root}/tests/soak/seeds`;
  try {
    const names = readdirSync(folder).filter((name) => name.startsWith(`${of}.`));
    return names.sort().map((name) => new Uint8Array(readFileSync(`${folder}/${name}`)));
  } catch {
    return [];
  }
}
