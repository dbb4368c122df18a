/** "1 note", "3 notes", "2 fixes". */
export function counted(count: number, word: string): string {
  return count === 1 ? `1 ${word}` : `${count} ${word}${word.endsWith("x") ? "es" : "s"}`;
}
