import * as z from "zod";
import type { Problem } from "../quantity/problem.ts";
import type { JsonPath, Place } from "./json-places.ts";
import { nearestWord } from "./nearest-word.ts";
import { SETTINGS_FILE } from "./program-files.ts";

/** Something in program.json that cannot stay as it is: where, what was found, what was expected, what to do. */
export interface Fault {
  readonly path: JsonPath;
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;
}

/** A fault of the value at a path. The remedy names the nearest of the words that may stand there. */
export function faultAt(
  root: unknown,
  path: JsonPath,
  expected: string,
  mayBe: readonly string[] = [],
): Fault {
  const value = valueAt(root, path);
  const near = typeof value === "string" ? nearestWord(value, mayBe) : null;
  const [what = "", remedy] = expected.split("\n");
  return {
    path,
    found: shown(value),
    expected: what,
    remedy:
      remedy ??
      (near !== null
        ? `Write ${JSON.stringify(near)}.`
        : value === undefined
          ? `Add ${JSON.stringify(path.at(-1) ?? "")} here.`
          : "Correct it here."),
  };
}

/** A value that must be one of these words. */
export const oneOf = (root: unknown, path: JsonPath, words: readonly string[]): Fault =>
  faultAt(root, path, `one of ${words.map((word) => JSON.stringify(word)).join(", ")}`, words);

/** A key the program does not know, with the nearest one it does. */
export function unknownKey(path: JsonPath, known: readonly string[]): Fault {
  const key = String(path.at(-1));
  const near = nearestWord(key, known);
  return {
    path,
    found: key,
    expected: known.length === 0 ? "no key here" : `one of the keys ${known.join(", ")}`,
    remedy: near === null ? "Correct the key, or take it out." : `Write ${JSON.stringify(near)}.`,
  };
}

/**
 * What a zod schema has against a value, as faults.
 *
 * @param pathOf where the schema's path stands in program.json, when the schema is not the one of the whole file
 */
export function faultsOf<T>(
  schema: z.ZodType<T>,
  value: unknown,
  root: unknown = value,
  pathOf: (path: JsonPath) => JsonPath = (path) => path,
): { readonly value: T } | { readonly faults: readonly Fault[] } {
  const checked = schema.safeParse(value, { error: expectedOf });
  if (checked.success) return { value: checked.data };
  const faults = checked.error.issues.flatMap((issue): Fault | Fault[] => {
    const path = issue.path.filter((part) => typeof part !== "symbol");
    if (issue.code === "unrecognized_keys") {
      const known = keysAt(z.toJSONSchema(schema), path);
      return issue.keys.map((key) => unknownKey([...pathOf(path), key], known));
    }
    const mayBe = issue.code === "invalid_value" ? issue.values.map(String) : [];
    return faultAt(root, pathOf(path), branchOf(issue, valueAt(value, path)), mayBe);
  });
  return { faults };
}

/** A problem with its line in program.json. */
export const faultProblem = (fault: Fault, placeOf: (path: JsonPath) => Place): Problem => ({
  severity: "rejected",
  file: SETTINGS_FILE,
  row: placeOf(fault.path).line,
  column: fault.path.length === 0 ? null : fault.path.join("."),
  found: fault.found,
  expected: fault.expected,
  remedy: fault.remedy,
});

/** Of a union only the branch for the kind of value that was found has something to say. */
function branchOf(issue: z.core.$ZodIssue, value: unknown): string {
  if (issue.code !== "invalid_union" || typeof value !== "string") return issue.message;
  const typed = issue.errors.flat().find((inner) => inner.code === "custom");
  return typed?.message ?? issue.message;
}

/** What was expected, where the schema has no words of its own. */
function expectedOf(issue: z.core.$ZodRawIssue): string {
  switch (issue.code) {
    case "too_small":
    case "too_big": {
      const small = issue.code === "too_small";
      const limit = small ? issue.minimum : issue.maximum;
      if (issue.exact === true) return `${limit} values`;
      const bound = small ? (issue.inclusive ? "at least" : "above") : issue.inclusive ? "at most" : "below";
      return `${issue.origin === "array" ? "a list of " : ""}${bound} ${limit}`;
    }
    case "invalid_type":
      return issue.expected === "object" || issue.expected === "record"
        ? "a group of keys in braces"
        : issue.expected === "array"
          ? "a list in square brackets"
          : issue.expected === "int"
            ? "a whole number"
            : `a ${issue.expected}`;
    case "invalid_value":
      return `one of ${issue.values.map((value) => JSON.stringify(value)).join(", ")}`;
    default:
      return issue.message ?? "another value";
  }
}

interface KeyTree {
  readonly properties?: Readonly<Record<string, KeyTree>>;
  readonly propertyNames?: { readonly enum?: readonly string[] };
  readonly additionalProperties?: KeyTree | boolean;
  readonly items?: KeyTree | boolean;
}

/** The keys a schema knows at a path. */
function keysAt(schema: unknown, path: JsonPath): readonly string[] {
  let here = schema as KeyTree | undefined;
  for (const part of path) {
    const inside: KeyTree | boolean | undefined =
      typeof part === "number" ? here?.items : (here?.properties?.[part] ?? here?.additionalProperties);
    here = typeof inside === "object" ? inside : undefined;
  }
  return here?.propertyNames?.enum ?? Object.keys(here?.properties ?? {});
}

export function valueAt(root: unknown, path: JsonPath): unknown {
  let here: unknown = root;
  for (const part of path) {
    if (typeof here !== "object" || here === null || !Object.hasOwn(here, part)) return undefined;
    here = (here as Record<string | number, unknown>)[part];
  }
  return here;
}

const shown = (value: unknown): string =>
  value === undefined ? "" : typeof value === "string" ? value : JSON.stringify(value);
