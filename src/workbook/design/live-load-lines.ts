import type { Basis } from "../../reference/basis.ts";
import { briefSource } from "./brief-source.ts";
import { ofProgram } from "./criteria-lines.ts";
import type { DesignLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";
import { ofLateral } from "./pipe-lines.ts";
import { whenFully, worked } from "./worked-line.ts";

type Method = DesignRing["wall"]["liveLoad"];
type MethodOf<Kind extends Method["kind"]> = Extract<Method, { readonly kind: Kind }>;

/** Traffic on the crown by the program's method; some surfaces carry none, or what an engineer stated. */
export function liveLoadLines(basis: Basis): readonly DesignLine[] {
  const { criteria, surfaceWheels } = basis;
  const wheel = criteria.liveLoadMethod;
  return [
    { kind: "section", title: "Traffic" },
    ofLateral(
      "method",
      "",
      "live load by",
      "text",
      ({ wall }) => wall.liveLoad.kind,
      briefSource(surfaceWheels.source),
    ),
    ...(criteria.statedLiveLoad === null
      ? []
      : [statedLine(criteria.statedLiveLoad, criteria.statedLiveLoadBy)]),
    ...wheelLines(basis),
    worked(
      "W_s",
      "W_s",
      "live load with impact",
      "pressure",
      "none, stated, or by the method",
      whenFully(
        `IF({method}="none",0,${criteria.statedLiveLoad === null ? "" : 'IF({method}="stated",{p_stated},'}` +
          `${wheel === "none" || wheel === "stated" ? "0" : "{W_wheel}"})${criteria.statedLiveLoad === null ? "" : ")"}`,
      ),
      ({ wall }) => wall.worst.design.externalLoad?.live ?? "",
      "the surface decides whether there is any",
    ),
  ];
}

const statedLine = (pressure: number, by: string): DesignLine =>
  ofProgram("p_stated", "", "live load as stated", "pressure", pressure, `stated by ${by}`);

function wheelLines(basis: Basis): readonly DesignLine[] {
  switch (basis.criteria.liveLoadMethod) {
    case "boussinesq":
      return boussinesqLines(basis);
    case "spread":
      return spreadLines(basis);
    case "depth table":
      return depthTableLines(basis);
    case "stated":
    case "none":
      return [];
    default:
      return basis.criteria.liveLoadMethod satisfies never;
  }
}

/** A line of the wheel's load, empty where no wheel loads a fully deteriorated host. */
function ofWheel<Kind extends Method["kind"]>(
  kind: Kind,
  of: (method: MethodOf<Kind>, ring: DesignRing) => number | string,
): (ring: DesignRing) => number | string {
  return (ring) => {
    const { liveLoad, worst } = ring.wall;
    if (worst.design.externalLoad === null || liveLoad.kind !== kind) return "";
    return of(liveLoad as MethodOf<Kind>, ring);
  };
}

const whenWheel = (kind: Method["kind"], formula: string): string =>
  whenFully(`IF({method}="${kind}",${formula},"")`);

/** The wheel by its name, before the reduction factor. */
function wheelOf({ wall, basis }: DesignRing) {
  const { liveLoad } = wall;
  return "wheel" in liveLoad ? (basis.liveLoads.wheels[liveLoad.wheel.name] ?? null) : null;
}

const wheelInputs = ({ liveLoads, criteria }: Basis): readonly DesignLine[] => [
  {
    ...ofLateral(
      "wheel",
      "",
      "wheel",
      "text",
      (ring) => wheelOf(ring)?.name ?? "",
      "the criteria, or the surface's own",
    ),
    optional: true,
  },
  {
    ...ofLateral(
      "P_w",
      "P_w",
      "load of one wheel",
      "force",
      (ring) => wheelOf(ring)?.load ?? "",
      briefSource(liveLoads.wheelSource),
    ),
    optional: true,
  },
  ofProgram("R", "R", "reduction factor", "factor", criteria.liveLoadReduction, briefSource(criteria.source)),
];

/** Boussinesq's stress under a point load, over the pipe's plan area. */
function boussinesqLines(basis: Basis): readonly DesignLine[] {
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

const liveOf = (_method: Method, { wall }: DesignRing): number | string =>
  wall.worst.design.externalLoad?.live ?? "";

/** One wheel patch spread through the soil. */
function spreadLines(basis: Basis): readonly DesignLine[] {
  const { spread, spreadSource } = basis.liveLoads;
  const kind = "spread";
  const source = briefSource(spreadSource);
  return [
    ...wheelInputs(basis),
    ofProgram("a_w", "a", "wheel patch, length", "diameter", spread.patchLength, source),
    ofProgram("b_w", "b", "wheel patch, width", "diameter", spread.patchWidth, "the same"),
    ofProgram(
      "g",
      "g",
      "growth with depth",
      "factor",
      spread.growth[basis.criteria.spreadSoil] ?? Number.NaN,
      `soil: ${basis.criteria.spreadSoil}`,
    ),
    ofProgram("mp", "mp", "several wheels at once", "factor", spread.multiplePresence, "the same"),
    ofProgram(
      "IM_0",
      "IM₀",
      "dynamic allowance at the surface",
      "percent",
      spread.dynamicAtSurface,
      "the same",
    ),
    ofProgram("H_0", "H₀", "cover where it ends", "length", spread.dynamicVanishesAt, "the same"),
    worked(
      "IM",
      "IM",
      "dynamic allowance at this cover",
      "percent",
      "IM₀·(1 − H/H₀), at least 0",
      whenWheel(kind, "MAX(0,{IM_0}*(1-{H}/{H_0}))"),
      ofWheel(kind, ({ spread: { dynamicAtSurface, dynamicVanishesAt } }, { wall }) =>
        Math.max(0, dynamicAtSurface * (1 - wall.worst.cover / dynamicVanishesAt)),
      ),
      "from memory, unverified",
    ),
    worked(
      "W_wheel",
      "",
      "pressure of the wheel",
      "pressure",
      "P_w·R·mp·(1 + IM)/[(a + g·H)·(b + g·H)]",
      whenWheel(kind, "{P_w}*{R}*{mp}*(1+{IM})/(({a_w}/1000+{g}*{H})*({b_w}/1000+{g}*{H}))/1000"),
      ofWheel(kind, liveOf),
      "service load: the safety factor N is the one factor",
    ),
  ];
}

/** Pressure by cover alone, straight lines between the rows, none beyond the last. */
function depthTableLines({ liveLoads, criteria }: Basis): readonly DesignLine[] {
  const kind = "depth table";
  const table = liveLoads.depthTables[criteria.depthTable];
  const source = table === undefined ? criteria.depthTable : `${table.name}: ${briefSource(table.source)}`;
  const [covers, pressures] = ["{#depth covers}", "{#depth pressures}"];
  return [
    worked(
      "i",
      "i",
      "rows of the table above this cover",
      "factor",
      "counted on the sheet Design tables",
      whenWheel(kind, `SUMPRODUCT(--(${covers}+1E-9<{H}))`),
      ofWheel(
        kind,
        ({ table: { rows } }, { wall }) => rows.filter(({ cover }) => cover + 1e-9 < wall.worst.cover).length,
      ),
      source,
    ),
    worked(
      "W_wheel",
      "",
      "pressure by the table",
      "pressure",
      "p_i + (H − H_i)/(H_i+1 − H_i)·(p_i+1 − p_i)",
      whenWheel(
        kind,
        `IF({i}=0,INDEX(${pressures},1),IF({i}=ROWS(${covers}),0,INDEX(${pressures},{i})+` +
          `MIN(1,({H}-INDEX(${covers},{i}))/(INDEX(${covers},{i}+1)-INDEX(${covers},{i})))*` +
          `(INDEX(${pressures},{i}+1)-INDEX(${pressures},{i}))))`,
      ),
      ofWheel(kind, liveOf),
      source,
    ),
  ];
}
