import { parseArgs } from "node:util";

/** What a soak is asked to do. */
export interface SoakOptions {
  /** How many kills of commands, kills of the sheet, and damaged inputs. */
  readonly kills: number;
  readonly sheetKills: number;
  readonly inputs: number;
  /** After which nothing new is begun; may be a fraction. */
  readonly minutes: number;
  readonly seed: number;
  /** The file that says where damaged inputs go on. */
  readonly state: string;
  /** The one damaged input to feed again, and nothing else; null for a whole soak. */
  readonly input: number | null;
  /** Where the bytes of that input are written. */
  readonly keep: string | null;
}

export type SoakAsked =
  | { readonly kind: "run"; readonly options: SoakOptions }
  | { readonly kind: "help" }
  /** What is wrong with what was asked, for people. */
  | { readonly kind: "refused"; readonly because: string };

const WHOLE = { kills: 1_000, "sheet-kills": 1_000, inputs: 1_000_000, seed: 20_261_125 } as const;
const MINUTES = 60;
const STATE = ".soak-state.json";

export const SOAK_USAGE = `npm run soak [-- OPTION VALUE …]

  --kills N         kills of the program's commands (${WHOLE.kills}), and failing disks unless it is 0
  --sheet-kills N   kills of its sheet on a pseudo-terminal (${WHOLE["sheet-kills"]})
  --inputs N        damaged inputs of numbers 0 to N − 1 (${WHOLE.inputs})
  --minutes M       begins nothing new after so many minutes (${MINUTES}; 0.5 is half of one)
  --seed N          the same seed does the same (${WHOLE.seed})
  --state FILE      damaged inputs go on where this file says (${STATE})
  --input N         feeds the one damaged input of this number again, and nothing else
  --keep FILE       writes the bytes of that input there
`;

/** What the words after `npm run soak --` ask for. */
export function readSoakOptions(args: readonly string[]): SoakAsked {
  const text = { type: "string" } as const;
  const known = {
    kills: text,
    "sheet-kills": text,
    inputs: text,
    minutes: text,
    seed: text,
    state: text,
    input: text,
    keep: text,
    help: { type: "boolean", short: "h" },
  } as const;
  let values: ReturnType<typeof parseArgs<{ options: typeof known }>>["values"];
  try {
    ({ values } = parseArgs({ args: [...args], options: known }));
  } catch (error) {
    // Node's own words end in advice for programmers after the first sentence.
    const said = error instanceof Error ? error.message.split(/\. |\n/)[0]! : String(error);
    return { kind: "refused", because: `${said}.` };
  }
  if (values.help === true) return { kind: "help" };
  const faults: string[] = [];
  const number = (name: keyof typeof values, otherwise: number, fraction = false): number => {
    const given = values[name];
    if (typeof given !== "string") return otherwise;
    const read = given.trim() === "" ? Number.NaN : Number(given);
    if (read >= 0 && (fraction ? Number.isFinite(read) : Number.isSafeInteger(read))) return read;
    faults.push(
      `--${name}: found ${JSON.stringify(given)}, expected a ${fraction ? "" : "whole "}number from 0 on.`,
    );
    return otherwise;
  };
  const options: SoakOptions = {
    kills: number("kills", WHOLE.kills),
    sheetKills: number("sheet-kills", WHOLE["sheet-kills"]),
    inputs: number("inputs", WHOLE.inputs),
    minutes: number("minutes", MINUTES, true),
    seed: number("seed", WHOLE.seed),
    state: values.state ?? STATE,
    input: values.input === undefined ? null : number("input", 0),
    keep: values.keep ?? null,
  };
  if (options.keep !== null && options.input === null)
    faults.push("--keep: found without --input, which says whose bytes are kept.");
  return faults.length > 0 ? { kind: "refused", because: faults.join("\n") } : { kind: "run", options };
}
