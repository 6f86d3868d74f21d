import type { Basis } from "../../reference/basis.ts";
import { briefSource } from "./brief-source.ts";
import type { DesignLine } from "./design-line.ts";
import { liveOf, ofWheel, whenWheel } from "./wheel-line.ts";
import { worked } from "./worked-line.ts";

/** Pressure by cover alone, straight lines between the rows, none beyond the last. */
export function depthTableLines({ liveLoads, criteria }: Basis): readonly DesignLine[] {
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
