/** A person's value for one cell, in the stored unit of its column, with the reason given. */
export interface DecidedValue {
  readonly value: number | string;
  readonly reason: string;
}

/** Standing decisions by lateral id, then by column key. */
export type Decisions = ReadonlyMap<string, ReadonlyMap<string, DecidedValue>>;
