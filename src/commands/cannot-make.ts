import { describeDiskError } from "./disk-error.ts";

/** Something typed that keeps the program from being made, for people. */
export class CannotMake extends Error {}

/** What is read of a file; what the disk has against it is said with the file's path. */
export async function orCannotMake<T>(path: string, reading: Promise<T>): Promise<T> {
  try {
    return await reading;
  } catch (error) {
    const said = describeDiskError(error);
    if (said === null) throw error;
    throw new CannotMake(said.startsWith(path) ? said : `${path}: ${said}`);
  }
}
