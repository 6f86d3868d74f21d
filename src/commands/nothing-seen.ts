import { describeProblem, type Problem } from "../quantity/problem.ts";

/** A pane has nothing to show, and says why. */
export const nothingSeen = (because: string | readonly Problem[]) =>
  ({
    kind: "none",
    because: typeof because === "string" ? because : because.map(describeProblem).join(" "),
  }) as const;
