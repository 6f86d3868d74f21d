/** A name of a file or folder as a shell takes it, for commands that are shown to be copied: `"my city"`, not `my city`. */
export function asTyped(name: string): string {
  if (/^[\p{L}\p{M}\p{N}._/\\:@%+,=-]+$/u.test(name)) return name;
  return /["$`\\!]/.test(name) ? `'${name.replaceAll("'", "'\\''")}'` : `"${name}"`;
}
