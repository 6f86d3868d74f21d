import { expect, it } from "vitest";
import { systemTyped } from "../../src/commands/typed-units.ts";
import { runSize } from "./size-run.ts";

it("answers in the system of what was typed, where all of it is metric", () => {
  const typed = (host: string, ...more: string[]) => systemTyped(host, [host, ...more]);
  expect(typed("100 mm", "2.4 m", "2 %", "clay", "0.3")).toBe("si");
  // A grade in thousandths is of both systems as one in hundredths is.
  expect(typed("100 mm", "20 ‰")).toBe("si");
  expect(typed("10cm", "18.8 kN/m3", "3 mm, 4.5 mm", "20 °C", "30 min")).toBe("si");
  expect(typed("DN 150", "2.4 m")).toBe("si");
  expect(typed("100 mm", "8 ft")).toBe("us");
  expect(typed("100 mm", "37'-6\"")).toBe("us");
  expect(typed("100 mm", "2 sq ft")).toBe("us");
  // A bare number of the host is in the system asked for, and none is.
  expect(typed("100", "2.4 m")).toBe("us");
  expect(typed('4 1/2"')).toBe("us");
});

it("sizes a metric pipe in metric, unless asked for the other", () => {
  const metric = { host: "100 mm", cover: "2.4 m" };
  expect(runSize(metric).out).toMatch(/host diameter D +100 mm; --host/);
  expect(runSize(metric).out).toMatch(/cover over crown H +2\.4 m; --cover/);
  expect(runSize({ ...metric, units: "us" }).out).toMatch(/host diameter D +3\.937 in/);
  expect(runSize({ host: "100 mm", cover: "8 ft" }).out).toMatch(/host diameter D +3\.937 in/);
});
