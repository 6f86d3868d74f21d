import type { Basis } from "../../reference/basis.ts";
import { briefSource } from "./brief-source.ts";
import { ofProgram } from "./criteria-lines.ts";
import type { DesignLine } from "./design-line.ts";
import type { DesignRing } from "./design-ring.ts";
import { ofLateral } from "./pipe-lines.ts";
import { whenFully } from "./worked-line.ts";

export type Method = DesignRing["wall"]["liveLoad"];
export type MethodOf<Kind extends Method["kind"]> = Extract<Method, { readonly kind: Kind }>;

/** A line of the wheel's load, empty where no wheel loads a fully deteriorated host. */
export function ofWheel<Kind extends Method["kind"]>(
  kind: Kind,
  of: (method: MethodOf<Kind>, ring: DesignRing) => number | string,
): (ring: DesignRing) => number | string {
  return (ring) => {
    const { liveLoad, worst } = ring.wall;
    if (worst.design.externalLoad === null || liveLoad.kind !== kind) return "";
    return of(liveLoad as MethodOf<Kind>, ring);
  };
}

export const whenWheel = (kind: Method["kind"], formula: string): string =>
  whenFully(`IF({method}="${kind}",${formula},"")`);

/** The wheel by its name, before the reduction factor. */
function wheelOf({ wall, basis }: DesignRing) {
  const { liveLoad } = wall;
  return "wheel" in liveLoad ? (basis.liveLoads.wheels[liveLoad.wheel.name] ?? null) : null;
}

export const wheelInputs = ({ liveLoads, criteria }: Basis): readonly DesignLine[] => [
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

/** The live load of the design: what a wheel's pressure is compared with. */
export const liveOf = (_method: Method, { wall }: DesignRing): number | string =>
  wall.worst.design.externalLoad?.live ?? "";
