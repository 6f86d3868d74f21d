/** Text without spaces at its ends. As String.trim, and faster for the nearly all cells that have none. */
export function trimmed(cell: string): string {
  const n = cell.length;
  return n === 0 || (isPlain(cell.charCodeAt(0)) && isPlain(cell.charCodeAt(n - 1))) ? cell : cell.trim();
}

const isPlain = (c: number): boolean => c > 32 && c < 127;
