/** A count's character by stepping through the ranges: digits to 9, then a letter per five counts, Z without end. */
export function characterOf(count: number): string {
  if (count < 10) return `${count}`;
  let top = 14;
  for (const letter of "ABCDEFGHIJKLMNOPQRSTUVWXY") {
    if (count <= top) return letter;
    top += 5;
  }
  return "Z";
}

/** Quick rating of a list of single defects, by counting them. */
export function ratingOfDefects(grades: readonly number[]): string {
  const found = [...new Set(grades)].sort((a, b) => b - a).slice(0, 2);
  const text = found.map((grade) => grade + characterOf(grades.filter((g) => g === grade).length)).join("");
  return `${text}0000`.slice(0, 4);
}
