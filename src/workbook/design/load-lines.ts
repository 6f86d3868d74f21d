import type { Basis } from "../../reference/basis.ts";
import type { DesignLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";
import { liveLoadLines } from "./live-load-lines.ts";
import { whenFully, worked } from "./worked-line.ts";

/** Heads, water pressure, and for a fully deteriorated host the whole load on the crown. */
export function loadLines(basis: Basis): readonly DesignLine[] {
  return [
    { kind: "section", title: "Water" },
    worked(
      "H_w",
      "H_w",
      "head over the crown",
      "length",
      "max(0, H − d)",
      "IF({H}-{d}<1E-9,0,{H}-{d})",
      headOverCrown,
      "Handbook, p. 75-76",
    ),
    worked(
      "H_i",
      "H_i",
      "head over the invert",
      "length",
      "max(0, H + D − d)",
      "IF({H}-{d}+{D}/1000<1E-9,0,{H}-{d}+{D}/1000)",
      ({ wall }) =>
        headOver(
          wall.worst.cover - wall.inputs.waterTableDepth.value + wall.inputs.hostDiameter.value / 1000,
        ),
      "Handbook, p. 82 and 87",
    ),
    worked(
      "P",
      "P",
      "water pressure over the invert",
      "pressure",
      "γ_w·H_i",
      "{gamma_w}*{H_i}",
      ({ wall }) => wall.worst.design.waterPressure,
      "Handbook, p. 82",
    ),

    ...liveLoadLines(basis),

    { kind: "section", title: "Load on the crown, host fully deteriorated" },
    worked(
      "R_w",
      "R_w",
      "water buoyancy factor",
      "factor",
      "1 − 0.33·H_w/H, at least 0.67",
      whenFully("MAX(0.67,1-0.33*{H_w}/{H})"),
      ofLoad((load) => load.waterBuoyancy),
      "Handbook, p. 75",
    ),
    worked(
      "B",
      "B′",
      "coefficient of elastic support",
      "factor",
      "1/(1 + 4·e^(−0.065·H)), H in ft",
      whenFully("1/(1+4*EXP(-0.065/0.3048*{H}))"),
      ofLoad((load) => load.soilSupport),
      "Handbook, p. 77",
    ),
    worked(
      "p_w",
      "",
      "water over the crown",
      "pressure",
      "γ_w·H_w",
      whenFully("{gamma_w}*{H_w}"),
      ofLoad((load) => load.water),
      "Handbook, p. 76",
    ),
    worked(
      "p_s",
      "",
      "soil",
      "pressure",
      "w·H·R_w",
      whenFully("{w}*{H}*{R_w}"),
      ofLoad((load) => load.soil),
      "Handbook, p. 75-76",
    ),
    worked(
      "q_t",
      "q_t",
      "total load",
      "pressure",
      "γ_w·H_w + w·H·R_w + W_s",
      whenFully("{p_w}+{p_s}+{W_s}"),
      ofLoad((load) => load.total),
      "Handbook, p. 75-76",
    ),
  ];
}

const headOverCrown = ({ wall }: DesignRing): number =>
  headOver(wall.worst.cover - wall.inputs.waterTableDepth.value);

/** As the engine has it (engineering/groundwater.ts): under a nanometre there is no water, only the last bits of a difference. */
const headOver = (height: number): number => (height < 1e-9 ? 0 : height);

type Load = NonNullable<DesignRing["wall"]["worst"]["design"]["externalLoad"]>;

/** A part of the load, which a partially deteriorated host has none of. */
export const ofLoad =
  (of: (load: Load) => number) =>
  ({ wall }: DesignRing): number | string => {
    const { externalLoad } = wall.worst.design;
    return externalLoad === null ? "" : of(externalLoad);
  };
