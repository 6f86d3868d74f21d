import { sizeOne } from "../../src/commands/size.ts";
import {
  flagOf,
  type SizeOptionKey,
  type SizeOptions,
  sizeOptions,
} from "../../src/commands/size-options.ts";

/** What a run of `wyeplan size` prints, with its exit code. */
export function runSize(options: SizeOptions) {
  let out = "";
  let err = "";
  const code = sizeOne(options, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    now: () => "2026-03-01T08:00:00.000Z",
    who: "nobody",
  });
  return { code, out, err };
}

/** The sheet as JSON, at some depth of it: `at(json, "rings", 0, "wall")`. */
export function sizeJson(options: SizeOptions): unknown {
  const { out, err } = runSize({ ...options, json: true });
  if (out === "") throw new Error(err);
  return JSON.parse(out);
}

export function at(json: unknown, ...path: readonly (string | number)[]): unknown {
  let value = json;
  for (const part of path) {
    if (typeof value !== "object" || value === null || !(part in value))
      throw new Error(`no ${path.join(".")} in the sheet`);
    value = (value as Record<string | number, unknown>)[part];
  }
  return value;
}

export function numberAt(json: unknown, ...path: readonly (string | number)[]): number {
  const value = at(json, ...path);
  if (typeof value !== "number") throw new Error(`${path.join(".")} is ${JSON.stringify(value)}`);
  return value;
}

/** The options of a command line as a page writes it; lines continued by a backslash are one. */
export function optionsOf(command: string): SizeOptions {
  const words = [...command.replaceAll("\\\n", " ").matchAll(/"([^"]*)"|(\S+)/g)].map(
    ([, quoted, bare]) => quoted ?? bare ?? "",
  );
  if (words[0] !== "wyeplan" || words[1] !== "size") throw new Error(`no size command: ${command}`);
  const keys = new Map<string, SizeOptionKey>(sizeOptions.map(({ key }) => [flagOf(key), key]));
  const options: Record<string, string> = {};
  for (let i = 2; i < words.length; i += 2) {
    const key = keys.get(words[i] ?? "");
    const value = words[i + 1];
    if (key === undefined || value === undefined) throw new Error(`no option ${words[i]} in ${command}`);
    options[key] = value;
  }
  return { host: "", ...options };
}

/** A lateral with everything given, so that every part of the sheet is there. */
export const whole: SizeOptions = {
  host: "4 in",
  cover: "8 ft",
  water: "2 ft",
  length: "42 ft",
  material: "clay",
  slope: "2 %",
  fixtureUnits: "20",
  bends: "2",
  sharpestBend: "45",
  placing: "pulled in and inflated",
  system: "felt, epoxy",
};
