/** What a command takes from the outside world: where its words go, the time, and who runs it. */
export interface CommandIo {
  /** Writes text as it is; lines bring their own line ends. */
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** ISO 8601, UTC. */
  readonly now: () => string;
  readonly who: string;
}

/** Exit codes: the work is done; something the user must mend kept it from being done; a mistake of the program. */
export const EXIT = { done: 0, notDone: 1, broken: 2 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];
