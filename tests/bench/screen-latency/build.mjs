/** Builds the sheet that measure.py presses keys in: `dist/bench-sheet/`. */
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("../../..", import.meta.url));
await build({
  absWorkingDir: root,
  entryPoints: ["tests/bench/screen-latency/big-sheet.tsx"],
  outdir: "dist/bench-sheet",
  outExtension: { ".js": ".mjs" },
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  jsx: "automatic",
  define: { "process.env.NODE_ENV": '"production"' },
  external: ["react-devtools-core"],
  banner: { js: "import { createRequire as __r } from 'node:module'; const require = __r(import.meta.url);" },
});
