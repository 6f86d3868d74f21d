import type { Basis } from "../../reference/basis.ts";
import { briefSource } from "./brief-source.ts";
import { ofProgram } from "./criteria-lines.ts";
import type { DesignLine } from "./design-line.ts";
import { liveOf, ofWheel, wheelInputs, whenWheel } from "./wheel-line.ts";
import { worked } from "./worked-line.ts";

/** One wheel patch spread through the soil. */
export function spreadLines(basis: Basis): readonly DesignLine[] {
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
