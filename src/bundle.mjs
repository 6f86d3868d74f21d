/**
 * Builds dist/ from src/ with esbuild: one entry per program, shared code split into chunks that load only
 * where a command asks for them (measured: `--help` 218 ms split and lazy, 723 ms when everything loads).
 */
import { copyFileSync, existsSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));
const entries = {
  main: "src/main.ts",
  "season-worker": "src/workers/season-worker.ts",
  generate: "sample-programs/generate.ts",
  bench: "tests/bench/bench.ts",
  // Worker threads, each a program of its own beside main.
  settle: "src/workers/settle.ts",
  "plan-rows": "src/workers/plan-rows.ts",
  soak: "tests/soak/soak.ts",
  "pane-worker": "src/workers/pane-worker.ts",
};

/**
 * exceljs asks for it to read workbooks from a stream, which this program never does; one package it brings names no licence, so it
 * is left out of the bundle.
 */
const withoutUnzipper = {
  name: "without unzipper",
  setup(bundler) {
    bundler.onResolve({ filter: /^unzipper$/ }, () => ({ path: "unzipper", namespace: "empty" }));
    bundler.onLoad({ filter: /.*/, namespace: "empty" }, () => ({ contents: "module.exports = {};" }));
  },
};

rmSync(`${root}dist`, { recursive: true, force: true });
await build({
  absWorkingDir: root,
  entryPoints: Object.fromEntries(Object.entries(entries).filter(([, file]) => existsSync(root + file))),
  outdir: "dist",
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  jsx: "automatic",
  legalComments: "none",
  // A fifth less to compile; names stay, so that the place of a mistake can still be read.
  minifyWhitespace: true,
  minifySyntax: true,
  plugins: [withoutUnzipper],
  logLevel: "warning",
  define: { "process.env.NODE_ENV": '"production"' },
  // resvg is machine code, and its package finds the one of this machine.
  external: ["react-devtools-core", "@resvg/resvg-js"],
  // CommonJS dependencies (exceljs) call require and __dirname, which an ES module does not have.
  banner: {
    js: [
      "import { createRequire as __createRequire } from 'node:module';",
      "import { fileURLToPath as __fileURLToPath } from 'node:url';",
      "import { dirname as __dirnameOf } from 'node:path';",
      "const require = __createRequire(import.meta.url);",
      "const __filename = __fileURLToPath(import.meta.url);",
      "const __dirname = __dirnameOf(__filename);",
    ].join("\n"),
  },
});
copyFileSync(`${root}node_modules/highs/build/highs.wasm`, `${root}dist/highs.wasm`);
