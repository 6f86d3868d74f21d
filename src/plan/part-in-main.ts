import type { ConnectionPiece, Liner, OnePiece } from "./liner.ts";

/** Whether a liner lines a piece of the main too: then it has two walls and a joint between them. */
export const hasPartInMain = (liner: NonNullable<Liner>): liner is ConnectionPiece | OnePiece =>
  liner.kind === "connection" || liner.kind === "one piece";
