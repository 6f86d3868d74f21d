import type { HostMaterial } from "../columns/lateral-columns.ts";
import { type Celsius, celsius, type Millimetres, metres, millimetres } from "../quantity/si.ts";
import type { Basis, ChosenLiner } from "../reference/basis.ts";
import { houseCures } from "../reference/cure-methods.ts";
import type { PlannedUse } from "../reference/liner-systems.ts";
import { cureSteps, hottestOf } from "./cure-steps.ts";
import type { Lateral } from "./lateral.ts";
import { NO_WALLS } from "./no-walls.ts";
import type { Reason } from "./reason.ts";
import type { Walls } from "./walls.ts";

/** What the host bears of the cure's heat. `not checked` is no consent: somebody must look before work. */
export type HeatOnHost =
  | { readonly kind: "bears"; readonly hottest: Celsius; readonly limit: Celsius }
  | { readonly kind: "no limit"; readonly hottest: Celsius | null }
  | { readonly kind: "too hot"; readonly hottest: Celsius; readonly limit: Celsius }
  | {
      readonly kind: "not checked";
      readonly because: "host material unknown" | "no temperature of this cure";
    };

/** Whether the program's cure may be used in this host with its wall; null without a wall to cure. */
export interface CureFit {
  readonly heat: HeatOnHost;
  /** Reasons against lining by this cure; none when it fits. */
  readonly against: readonly Reason[];
}

/** The fit of each use's cure. */
export type CureFits = Readonly<Record<PlannedUse, CureFit | null>>;

/** Whether the cure chosen for each use hardens its resin and wall, and whether the host bears its heat. */
export function fitCures(
  lateral: Pick<Lateral, "hostMaterial">,
  walls: Walls,
  basis: Pick<Basis, "liners" | "hosts">,
): CureFits {
  return walls === NO_WALLS ? NO_FITS : new AskedFits(lateral, walls, basis);
}

/** Each is worked out when somebody asks for it, and its wall with it. */
class AskedFits implements CureFits {
  readonly #lateral: Pick<Lateral, "hostMaterial">;
  readonly #walls: Walls;
  readonly #basis: Pick<Basis, "liners" | "hosts">;
  #fullLength: CureFit | null | undefined;
  #section: CureFit | null | undefined;
  #connection: CureFit | null | undefined;
  #onePiece: CureFit | null | undefined;

  constructor(lateral: Pick<Lateral, "hostMaterial">, walls: Walls, basis: Pick<Basis, "liners" | "hosts">) {
    this.#lateral = lateral;
    this.#walls = walls;
    this.#basis = basis;
  }

  get "full-length"(): CureFit | null {
    if (this.#fullLength === undefined) this.#fullLength = this.#fitOf("full-length");
    return this.#fullLength;
  }

  get section(): CureFit | null {
    if (this.#section === undefined) this.#section = this.#fitOf("section");
    return this.#section;
  }

  get connection(): CureFit | null {
    if (this.#connection === undefined) this.#connection = this.#fitOf("connection");
    return this.#connection;
  }

  get "one-piece"(): CureFit | null {
    if (this.#onePiece === undefined) this.#onePiece = this.#fitOf("one-piece");
    return this.#onePiece;
  }

  #fitOf(use: PlannedUse): CureFit | null {
    const { liners, hosts } = this.#basis;
    const liner = liners[use];
    return liner === null ? null : fitCure(this.#lateral, thickestOf(this.#walls[use]), liner, hosts);
  }
}

const NO_FITS: CureFits = { "full-length": null, section: null, connection: null, "one-piece": null };

/** The thickest wall that must harden: of a liner with a part in the main it may be that one. */
function thickestOf(wall: Walls[PlannedUse]): Millimetres | null {
  if (wall.kind !== "designed") return null;
  if (!("mainPart" in wall)) return wall.specified.stocked;
  return millimetres(Math.max(wall.lateralPart.specified.stocked, wall.mainPart.specified.stocked));
}

/**
 * The medium's temperature is held against the host's limit: the host itself stays cooler while it lasts, the resin's
 * own heat comes on top.
 */
export function fitCure(
  { hostMaterial }: Pick<Lateral, "hostMaterial">,
  wall: Millimetres | null,
  { cure, resin, system }: Pick<ChosenLiner, "cure" | "resin" | "system">,
  hosts: Basis["hosts"],
): CureFit | null {
  if (wall === null) return null;
  const steps = cureSteps(cure, resin.key, wall, ANY_LENGTH);
  if (steps.kind === "refused") {
    const against: Reason =
      steps.because === "resin"
        ? { code: "resin not cured so", method: cure.key, resin: resin.key }
        : { code: "wall too thick to cure", method: cure.key, wall, thickest: steps.thickest };
    return { heat: { kind: "not checked", because: "no temperature of this cure" }, against: [against] };
  }
  const material = hostMaterial?.value ?? null;
  const heat = heatOn(material, hottestOf(steps), hosts);
  if (heat.kind !== "too hot" || material === null) return { heat, against: [] };
  const others = system.cures.filter((key) => {
    const other = houseCures.find((method) => method.key === key);
    if (other === undefined || key === cure.key) return false;
    const otherSteps = cureSteps(other, resin.key, wall, ANY_LENGTH);
    return otherSteps.kind !== "refused" && heatOn(material, hottestOf(otherSteps), hosts).kind !== "too hot";
  });
  const { hottest, limit } = heat;
  return {
    heat,
    against: [{ code: "cure too hot for host", method: cure.key, hottest, host: material, limit, others }],
  };
}

/** Length only sets how long lamps travel: it is no reason against a cure. */
const ANY_LENGTH = metres(1);

function heatOn(material: HostMaterial | null, hottest: Celsius | null, hosts: Basis["hosts"]): HeatOnHost {
  if (material === null) return { kind: "not checked", because: "host material unknown" };
  const { bears } = hosts.values[material];
  if (bears === null) return { kind: "no limit", hottest };
  if (hottest === null) return { kind: "not checked", because: "no temperature of this cure" };
  const limit = celsius(bears);
  return { kind: hottest > limit ? "too hot" : "bears", hottest, limit };
}
