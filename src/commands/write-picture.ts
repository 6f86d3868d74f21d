import { mkdir } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, extname, join } from "node:path";
import { writeAtomically } from "../program/atomic-write.ts";
import type { CommandIo } from "./command-io.ts";

/** Whether a picture can be written under this name; says so where it cannot. */
export function isPictureName(file: string, io: CommandIo): boolean {
  if ([".svg", ".png"].includes(extname(file).toLowerCase())) return true;
  io.err(`--picture ${file}: expected a file name that ends in .svg or .png.\n`);
  return false;
}

/** Writes a picture as SVG or, by the name's ending, as PNG in twice its size. */
export async function writePicture(file: string, svg: string, io: CommandIo): Promise<void> {
  const picture = extname(file).toLowerCase() === ".png" ? await pngOf(svg) : svg;
  await mkdir(dirname(file), { recursive: true });
  await writeAtomically(file, picture);
  io.err(`Picture: ${file}\n`);
}

/** With the letters the package brings, so that it looks the same on every machine. */
async function pngOf(svg: string): Promise<Uint8Array> {
  const { Resvg } = await import("@resvg/resvg-js");
  const fonts = dirname(createRequire(import.meta.url).resolve("dejavu-fonts-ttf/package.json"));
  const drawn = new Resvg(svg, {
    fitTo: { mode: "zoom", value: 2 },
    font: {
      fontFiles: ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"].map((name) => join(fonts, "ttf", name)),
      loadSystemFonts: false,
      defaultFontFamily: "DejaVu Sans",
    },
    background: "white",
  });
  return drawn.render().asPng();
}
