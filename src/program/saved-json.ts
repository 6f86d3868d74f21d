import type * as z from "zod";

export type SavedJson<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly found: string; readonly expected: string };

/**
 * What the text of a file that the program once saved holds: anything may stand in it.
 *
 * @param what in words, with its article: `a snapshot`
 */
export function savedJson<T>(text: string, schema: z.ZodType<T>, what: string): SavedJson<T> {
  let written: unknown;
  try {
    written = JSON.parse(text);
  } catch (error) {
    return {
      ok: false,
      found: error instanceof Error ? error.message : String(error),
      expected: `${what} in JSON`,
    };
  }
  const checked = schema.safeParse(written);
  if (checked.success) return { ok: true, value: checked.data };
  const [issue] = checked.error.issues;
  return {
    ok: false,
    found: `${issue?.path.join(".") ?? ""}: ${issue?.message ?? ""}`,
    expected: `${what} of this version`,
  };
}
