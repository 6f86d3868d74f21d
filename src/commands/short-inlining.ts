import { setFlagsFromString } from "node:v8";

/** V8's own bound of Node 20 to 24, in bytes of bytecode of one function that is copied into another. */
const USUAL = 460;
const SHORT = 60;

/**
 * Has the engine copy only small functions into others while the work lasts. A plan is hundreds of functions that all become hot in its
 * first seconds, and compiling them with everything they call copied in takes longer than 10,000 laterals do: measured there, 2.7 s of
 * processor time for the whole command, not 3.6. Once it is compiled a plan is as fast either way. Of every thread of the process.
 */
export async function withShortInlining<Result>(work: () => Promise<Result>): Promise<Result> {
  setFlagsFromString(`--max-inlined-bytecode-size=${SHORT}`);
  try {
    return await work();
  } finally {
    setFlagsFromString(`--max-inlined-bytecode-size=${USUAL}`);
  }
}
