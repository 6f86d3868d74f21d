/** What a command takes from the outside world: where its words go, the time, and who runs it. */
export interface CommandIo {
  /** Writes text as it is; lines bring their own line ends. */
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** ISO 8601, UTC. */
  readonly now: () => string;
  /** The day on the calendar of whoever runs the command, ISO 8601; where it is missing, the day in UTC. */
  readonly today?: () => string;
  readonly who: string;
  /** How many letters a line of the terminal holds; missing where the words go to a file or a pipe. */
  readonly columns?: number;
}

/**
 * Exit codes, the same for every command: done; done, but something in the city's files was rejected; not done,
 * because of something the user must mend; a mistake of the program.
 */
export const EXIT = { done: 0, doneWithProblems: 1, notDone: 2, broken: 3 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];
