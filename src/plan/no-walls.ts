import type { WallNotAsked, Walls } from "./walls.ts";

export const NOT_ASKED: WallNotAsked = { kind: "not asked" };

/** The walls of nearly all laterals: one record, by which the stages after the design tell them. */
export const NO_WALLS: Walls = {
  "full-length": NOT_ASKED,
  section: NOT_ASKED,
  connection: NOT_ASKED,
  "one-piece": NOT_ASKED,
};
