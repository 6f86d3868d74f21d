import type { Basis } from "../../reference/basis.ts";
import { briefSource } from "./brief-source.ts";
import { ofProgram } from "./criteria-lines.ts";
import type { DesignLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";
import { liveOf, type MethodOf, ofWheel, wheelInputs, whenWheel } from "./wheel-line.ts";
import { worked } from "./worked-line.ts";

/** Boussinesq's stress under a point load, over the pipe's plan area. */
export function boussinesqLines(basis: Basis): readonly DesignLine[] {
  const { liveLoads, criteria } = basis;
  const kind = "boussinesq";
  const impact = liveLoads.impact[criteria.impactTable];
  const source = "formula from memory; proven by two published tables";
  const ratios = (ring: DesignRing, { loadedLength }: MethodOf<typeof kind>) => {
    const twice = 2 * ring.wall.worst.cover;
    const m = ring.wall.inputs.hostDiameter.value / 1000 / twice;
    const n = loadedLength / twice;
    return { m, n, a: m * m + n * n + 1, b: m * m * n * n, c: 2 * m * n * Math.sqrt(m * m + n * n + 1) };
  };
  const ratio = (key: keyof ReturnType<typeof ratios>) =>
    ofWheel(kind, (method, ring) => ratios(ring, method)[key]);
  const line = (key: string, equation: string, formula: string, of: keyof ReturnType<typeof ratios>) =>
    worked(key, key, "of the influence", "factor", equation, whenWheel(kind, formula), ratio(of), source);
  return [
    ...wheelInputs(basis),
    ofProgram(
      "L",
      "L",
      "pipe length that shares a wheel",
      "length",
      liveLoads.loadedLength,
      briefSource(liveLoads.loadedLengthSource),
    ),
    line("m", "D/(2·H)", "{D}/1000/(2*{H})", "m"),
    line("n", "L/(2·H)", "{L}/(2*{H})", "n"),
    line("a", "m² + n² + 1", "{m}^2+{n}^2+1", "a"),
    line("b", "m²·n²", "{m}^2*{n}^2", "b"),
    line("c", "2·m·n·√a", "2*{m}*{n}*SQRT({a})", "c"),
    worked(
      "I",
      "I",
      "influence at a corner",
      "factor",
      "[c/(a + b)·(a + 1)/a + atan2(c, a − b)]/(4π)",
      // A spreadsheet's ATAN2 takes x before y.
      whenWheel(kind, "({c}/({a}+{b})*({a}+1)/{a}+ATAN2({a}-{b},{c}))/(4*PI())"),
      ofWheel(kind, (method, ring) => {
        const { a, b, c } = ratios(ring, method);
        return ((c / (a + b)) * ((a + 1) / a) + Math.atan2(c, a - b)) / (4 * Math.PI);
      }),
      source,
    ),
    worked(
      "F",
      "F",
      "impact factor at this cover",
      "factor",
      "the row of the sheet Design tables",
      whenWheel(kind, "INDEX({#impact factors},MAX(1,SUMPRODUCT(--({#impact covers}-1E-9<={H}))))"),
      ofWheel(kind, ({ impact: { steps } }, { wall }) => {
        const at = steps.findLast((step) => wall.worst.cover >= step.from - 1e-9) ?? steps[0];
        return at.factor;
      }),
      `${criteria.impactTable}: ${impact === undefined ? "" : briefSource(impact.source)}`,
    ),
    worked(
      "W_wheel",
      "",
      "pressure of the wheel",
      "pressure",
      "F·4·I·P_w·R/(L·D)",
      whenWheel(kind, "{F}*4*{I}*{P_w}*{R}/({L}*{D}/1000)/1000"),
      ofWheel(kind, liveOf),
      "Handbook, p. 76",
    ),
  ];
}
