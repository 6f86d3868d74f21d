import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

/** A worker of `src/workers` as it is built, put into a folder: from source there is none to start. */
export async function builtWorker(name: string, folder: string): Promise<URL> {
  const outfile = join(folder, `${name}.mjs`);
  await build({
    entryPoints: [fileURLToPath(new URL(`../../src/workers/${name}.ts`, import.meta.url))],
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20",
    logLevel: "error",
  });
  return pathToFileURL(outfile);
}
