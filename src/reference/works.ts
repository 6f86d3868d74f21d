/**
 * What a crew is sent to do. A treatment is a list of works, and its bid lines, crew steps, effects, lives and cost are
 * put together from them. A work that is a treatment of its own bears its name.
 */
export const workKinds = [
  "inspect first",
  "clean and cut roots",
  "joint grouting",
  "sectional liner",
  "full-length liner",
  "connection liner",
  "one-piece liner",
  "pipe bursting",
  "open-cut replacement",
  "new cleanout",
  "grouting of running infiltration",
] as const;
export type WorkKind = (typeof workKinds)[number];
