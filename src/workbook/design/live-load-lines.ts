import type { Basis } from "../../reference/basis.ts";
import { boussinesqLines } from "./boussinesq-lines.ts";
import { briefSource } from "./brief-source.ts";
import { ofProgram } from "./criteria-lines.ts";
import { depthTableLines } from "./depth-table-lines.ts";
import type { DesignLine } from "./design-line.ts";
import { ofLateral } from "./pipe-lines.ts";
import { spreadLines } from "./spread-lines.ts";
import { whenFully, worked } from "./worked-line.ts";

/** Traffic on the crown by the program's method; some surfaces carry none, or what an engineer stated. */
export function liveLoadLines(basis: Basis): readonly DesignLine[] {
  const { criteria, surfaceWheels } = basis;
  const { statedLiveLoad, liveLoadMethod } = criteria;
  const ofMethod = liveLoadMethod === "none" || liveLoadMethod === "stated" ? "0" : "{W_wheel}";
  const ofTraffic = statedLiveLoad === null ? ofMethod : `IF({method}="stated",{p_stated},${ofMethod})`;
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
    ...(statedLiveLoad === null ? [] : [statedLine(statedLiveLoad, criteria.statedLiveLoadBy)]),
    ...wheelLines(basis),
    worked(
      "W_s",
      "W_s",
      "live load with impact",
      "pressure",
      "none, stated, or by the method",
      whenFully(`IF({method}="none",0,${ofTraffic})`),
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
