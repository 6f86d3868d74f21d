import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { isPictureName, writePicture } from "../../src/commands/write-picture.ts";
import { type PicturedCurve, pictureCurve } from "../../src/pictures/curve-picture.ts";

const curve: PicturedCurve = {
  title: "Budget varied",
  xName: "budget",
  yName: "USD",
  points: [
    { label: "100,000", y: null, isKnee: false },
    { label: "200,000", y: 500, isKnee: false },
    { label: "300,000", y: 900, isKnee: true },
    { label: "400,000", y: 950, isKnee: false },
  ],
};

it("a picture of a curve has its words, a mark for each point that has a value, and is the same twice", () => {
  const svg = pictureCurve(curve);
  for (const words of ["Budget varied", "budget", "USD", "100,000", "400,000", "knee"])
    expect(svg).toContain(words);
  expect(svg).toContain("#b5451b");
  expect(pictureCurve(curve)).toBe(svg);
  expect(pictureCurve({ ...curve, points: curve.points.slice(0, 2) })).not.toContain("#b5451b");
});

it("draws another curve beside it, broken and with other marks, each with its name", () => {
  const both = pictureCurve({
    ...curve,
    name: "spring",
    beside: { name: "autumn", ys: [100, null, 700, 800] },
  });
  for (const words of ["spring", "autumn", "stroke-dasharray"]) expect(both).toContain(words);
  expect(pictureCurve(curve)).not.toContain("stroke-dasharray");
});

it("is written as PNG in twice its size, with letters in it", async () => {
  const folder = mkdtempSync(join(tmpdir(), "wyeplan-picture-"));
  try {
    const io = { out: () => {}, err: () => {}, now: () => "", who: "" };
    const size = async (name: string, svg: string) => {
      await writePicture(join(folder, name), svg, io);
      return readFileSync(join(folder, name));
    };
    const png = await size("a.png", pictureCurve(curve));
    // The signature of PNG, then width and height in its first chunk (W3C PNG, 5.2 and 11.2.1).
    expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1920, 1080]);
    // Without a font the two would be alike.
    const other = await size("b.png", pictureCurve({ ...curve, title: "Something else" }));
    expect(png.equals(other)).toBe(false);
    expect(isPictureName("curve.jpg", io)).toBe(false);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
