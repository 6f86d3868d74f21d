/** Builds the sheet that measure.py presses keys in, with the threads it works in beside it: `dist/bench-sheet/`. */
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("../../..", import.meta.url));
await build({
  absWorkingDir: root,
  entryPoints: {
    "big-sheet": "tests/bench/screen-latency/big-sheet.tsx",
    settle: "src/workers/settle.ts",
    "pane-worker": "src/workers/pane-worker.ts",
  },
  outdir: "dist/bench-sheet",
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  jsx: "automatic",
  define: { "process.env.NODE_ENV": '"production"' },
  external: ["react-devtools-core", "@resvg/resvg-js"],
  banner: { js: "import { createRequire as __r } from 'node:module'; const require = __r(import.meta.url);" },
});
