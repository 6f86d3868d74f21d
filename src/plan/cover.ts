import { type Metres, metres } from "../quantity/si.ts";
import type { Basis } from "../reference/basis.ts";
import type { Lateral } from "./lateral.ts";
import { type Stated, stated } from "./stated.ts";

type Covers = Pick<Lateral, "coverAtHouse" | "coverAtMain">;
type Assumed = Pick<Basis["assumptions"], "cover">;

/** Soil over the crown at the building: the given one, else that of the other end, else the assumed one. The same for walls and cleanouts. */
export const houseCover = ({ coverAtHouse, coverAtMain }: Covers, { cover }: Assumed): Stated<Metres> =>
  coverAtHouse ?? sameCover(coverAtMain) ?? assumedDepth(cover);

/** The same at the main. */
export const mainCover = ({ coverAtHouse, coverAtMain }: Covers, { cover }: Assumed): Stated<Metres> =>
  coverAtMain ?? sameCover(coverAtHouse) ?? assumedDepth(cover);

export const assumedDepth = ({ label, value }: Assumed["cover"]): Stated<Metres> =>
  stated(metres(value), "assumed", label);

/** One known end stands for both. */
const sameCover = (known: Stated<Metres> | null): Stated<Metres> | null =>
  known === null ? null : stated(known.value, "assumed", "cover of the other end");
