/**
 * What the disk refuses, for people: a full disk, a folder without the right to write; and what the form of a file cannot hold. That
 * is for the user to mend, not a mistake of the program. Null for any other error.
 */
export function describeDiskError(error: unknown): string | null {
  // Told by its name: the zip writer is loaded only where something is written with it.
  if (error instanceof Error && error.name === "TooLarge") return error.message;
  if (!(error instanceof Error) || !("code" in error) || !("syscall" in error)) return null;
  const said = refusals[String(error.code)];
  if (said === undefined) return null;
  const path = "path" in error && typeof error.path === "string" ? error.path : "";
  return path === "" ? `${said}.` : `${path}: ${said}.`;
}

/** By the system's own code. */
const refusals: Readonly<Record<string, string>> = {
  EACCES: "no permission to read or write it",
  EPERM: "no permission to read or write it",
  EROFS: "the disk is read-only",
  ENOSPC: "no space left on the disk",
  EDQUOT: "no space left in the user's part of the disk",
  EFBIG: "the file is larger than the disk allows",
  ENOENT: "no such file or folder",
  ENOTDIR: "a file stands where a folder is needed",
  EISDIR: "a folder, where a file is needed",
  EEXIST: "something of that name stands there already",
  ENAMETOOLONG: "the name is longer than the disk allows",
  ELOOP: "links that lead round in a circle",
  EBUSY: "in use by another program",
  EMFILE: "too many open files",
  ENFILE: "too many open files",
  EIO: "the disk cannot read or write it",
};
