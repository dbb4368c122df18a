import type { NameToken } from "../name-words.ts";

type Side = "left" | "right";

/** A language in which the joints of a rig may be named. Words are lower case and without accents. */
export interface Language {
  readonly words: ReadonlyMap<string, NameToken>;
  /** Single letters that stand for a side. */
  readonly letters: Readonly<Record<string, Side>>;
}

type Lists = Partial<Record<NameToken, string>>;

/**
 * A language of its words.
 * @param letters single letters that stand for a side
 * @param lists everyday words for parts of a body, from dictionaries, with blanks between them, plain as Latin letters without
 * accents are; letters with two dots are also written with an e
 */
export function language(letters: Readonly<Record<string, Side>>, lists: Lists): Language {
  const words = Object.entries(lists).flatMap(([token, list]) =>
    list.split(" ").map((word) => [word, token as NameToken] as const),
  );
  return { letters, words: new Map(words) };
}
