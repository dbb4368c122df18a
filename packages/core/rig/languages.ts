import { germanic } from "./language/germanic.ts";
import type { Language } from "./language/language.ts";
import { others } from "./language/others.ts";
import { romance } from "./language/romance.ts";

export type { Language } from "./language/language.ts";

/** All languages that are read besides English, the more widespread in rigs first. */
const languages: readonly Language[] = [...romance, ...germanic, ...others];

/** Names of parts that tell a language; one or two words may be like those of another by chance. */
const telling = 3;

/**
 * The language, besides English, in which most of a rig's parts are named.
 * @param words words of the rig's names, lower case and plain
 * @param isKnown whether a word is one that is read anyway
 * @returns null where fewer than three different words are of one language
 */
export function languageOf(words: Iterable<string>, isKnown: (word: string) => boolean): Language | null {
  const counts = new Array<number>(languages.length).fill(0);
  for (const word of new Set(words)) {
    if (isKnown(word)) continue;
    languages.forEach((one, i) => {
      if (one.words.has(word)) counts[i]++;
    });
  }
  const most = Math.max(...counts);
  return most < telling ? null : languages[counts.indexOf(most)];
}

/** A word without accents. */
export function plainWord(word: string): string {
  return word
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replaceAll("ł", "l")
    .replaceAll("ß", "ss")
    .replaceAll("ø", "o")
    .replaceAll("ı", "i");
}
