import { byText } from "../base/by-text.ts";
import { type Language, languageOf, plainWord } from "./languages.ts";
import { type NameToken, nameWords, shortWords } from "./name-words.ts";
import type { PartWord } from "./part-word.ts";

export type { PartWord } from "./part-word.ts";

export type Side = "left" | "right";

/** What a node's id says of it. */
export interface NameReading {
  /** What stands before the last colon, empty if nothing does. */
  readonly space: string;
  readonly side: Side | null;
  readonly word: PartWord | null;
  /** The tip of a chain rather than a joint, for example an end site. */
  readonly end: boolean;
  /** A joint that helps others, for example one that shares out a twist. */
  readonly aid: boolean;
  /** Cloth, straps and the like, whatever else the name tells: `ribbon_shoulder_l` is no shoulder. */
  readonly loose: boolean;
  /** What only its own weight holds, such as a rope or a hook; a name that tells a part of the body is none: `arm_chain`. */
  readonly hanging: boolean;
  /** A fin or a flipper, which swims and carries nothing. */
  readonly fin: boolean;
}

/**
 * Reads side and part from a node's id, whatever the habit of writing: `LeftArm`, `arm_l`, `crew:R-upper.arm`.
 * @param language in which parts are named that English does not tell
 */
export function readName(id: string, language: Language | null = null): NameReading {
  if (language === null) return readEnglish(id);
  let read = readIn.get(language);
  if (read === undefined) {
    read = byText((name) => reading(name, language));
    readIn.set(language, read);
  }
  return read(id);
}

const readEnglish = byText((id) => reading(id, null));
const readIn = new WeakMap<Language, (id: string) => NameReading>();

function reading(id: string, language: Language | null): NameReading {
  const path = pathOf(id);
  const colon = path.lastIndexOf(":");
  const known: NameToken[] = [];
  const foreign: NameToken[] = [];
  let side: Side | null = null;
  const words = wordsOf(path.slice(colon + 1));
  const tellsSide = words.some((word) => isSide(tokensOf(word, words.length === 1)));
  words.forEach((word, i) => {
    const isOuter = words.length > 1 && (i === 0 || i === words.length - 1);
    const read = (tellsSide ? segment[word] : undefined) ?? tokensOf(word, words.length === 1);
    const other =
      language === null || isRead(read) ? undefined : foreignTokens(language, plainWord(word), isOuter);
    for (const token of other ?? read) {
      if (token === "left" || token === "right") side ??= token;
      else (other === undefined ? known : foreign).push(token);
    }
  });
  // What English tells goes before a word that is like one of another language.
  const own = new Set(known);
  const all =
    partOfTokens(own, side) === null || foreign.some(isDetail) || foreign.includes("loose")
      ? new Set([...known, ...foreign])
      : own;
  return {
    space: colon > 0 ? path.slice(0, colon) : "",
    side,
    word: all.has("aid") ? null : onLimbOfFour(partOfTokens(all, side), all, side),
    end: all.has("end") || (all.has("top") && all.has("head")),
    aid: all.has("aid"),
    loose: all.has("loose"),
    hanging: all.has("hanging") && !all.has("aid") && partOfTokens(all, side) === null,
    fin: all.has("fin"),
  };
}

/** Half of a limb by one letter, where another word of the name tells the side: `l_larm` is the lower left arm. */
const segment: Readonly<Record<string, readonly NameToken[]>> = {
  uarm: ["upper", "arm"],
  larm: ["lower", "arm"],
  uleg: ["upper", "leg"],
  lleg: ["lower", "leg"],
};

const isSide = (tokens: readonly NameToken[]) =>
  tokens.length === 1 && (tokens[0] === "left" || tokens[0] === "right");
const isRead = (tokens: readonly NameToken[]) => tokens.length !== 1 || tokens[0] !== "other";
/** What is no part by itself, and says which one is meant. */
const isDetail = (token: NameToken) => token === "upper" || token === "lower" || token === "fore";

/** A side stands first or last in a name. */
function foreignTokens(
  { words, letters }: Language,
  word: string,
  isOuter: boolean,
): readonly NameToken[] | undefined {
  const token = words.get(word) ?? (isOuter ? letters[word] : undefined);
  if (token === undefined) return compound(words, word);
  return (token === "left" || token === "right") && !isOuter ? undefined : [token];
}

/** A part with which of its kind it is before it, written as one: `voorteen`, `Hinterpfote`, `etutassu`. */
function compound(words: ReadonlyMap<string, NameToken>, word: string): readonly NameToken[] | undefined {
  for (let at = 2; at <= word.length - 2; at++) {
    const [which, part] = [words.get(word.slice(0, at)), words.get(word.slice(at))];
    if (which !== undefined && part !== undefined && tellsWhich.has(which) && !tellsWhich.has(part))
      return [which, part];
  }
  return undefined;
}

const tellsWhich: ReadonlySet<NameToken> = new Set<NameToken>(["fore", "hind", "upper", "lower"]);

const pathOf = (id: string) => id.slice(Math.max(id.lastIndexOf("|"), id.lastIndexOf("/")) + 1);

/** The language, besides English, in which the nodes of a rig are named; null for none. */
export function languageOfNames(ids: readonly string[]): Language | null {
  return languageOf(ids.flatMap(plainWordsOf), isEnglish);
}

const plainWordsOf = byText((id): readonly string[] => {
  const path = pathOf(id);
  return wordsOf(path.slice(path.lastIndexOf(":") + 1)).map(plainWord);
});
const isEnglish = byText((word) => isRead(tokensOf(word, false)));

/** Words of a name, lower case: split at separators, digits and capitals. */
function wordsOf(name: string): string[] {
  return (
    name
      .match(/\p{Lu}+(?!\p{Ll})|\p{Lu}?\p{Ll}+|\p{Lo}+/gu)
      ?.map((word) => word.toLowerCase())
      .filter((word) => word !== "") ?? []
  );
}

function tokensOf(word: string, alone: boolean): readonly NameToken[] {
  const known = nameWords.get(word) ?? shortWords.get(word);
  if (known !== undefined) return [known];
  if (!alone && (word === "l" || word === "r")) return [word === "l" ? "left" : "right"];
  return splitJoined(word) ?? ["other"];
}

/** Takes words that are written as one apart, such as `leftupleg` or `larm`; null where that does not come out even. */
function splitJoined(word: string): readonly NameToken[] | null {
  if (word.length > 40) return null;
  const best: (NameToken[] | null)[] = new Array(word.length + 1).fill(null);
  best[0] = [];
  for (let end = 1; end <= word.length; end++) {
    for (let start = 0; start < end; start++) {
      const before = best[start];
      if (before === null) continue;
      const part = word.slice(start, end);
      const edge = start === 0 || end === word.length;
      const token =
        end - start === 1
          ? edge && word.length > 3
            ? sideOfLetter(part)
            : undefined
          : end - start === word.length
            ? undefined
            : nameWords.get(part);
      if (token === undefined) continue;
      const shortest = best[end];
      if (shortest === null || before.length + 1 < shortest.length) best[end] = [...before, token];
    }
  }
  return best[word.length];
}

function sideOfLetter(letter: string): NameToken | undefined {
  return letter === "l" ? "left" : letter === "r" ? "right" : undefined;
}

/** Parts in the order in which they win where a name holds several: `arm_l_hand` is a hand. */
const firstParts = [
  ...(["hair", "ears", "tail", "wing", "jaw", "hand", "foot", "forearm", "shin", "upperArm"] as const),
  ...(["thigh", "collar", "shoulder"] as const),
];
const lastParts = ["neck", "head", "chest", "spine", "pelvis", "arm", "leg", "prop", "scene"] as const;

/** On four legs the fore leg is the arm: `front_leg_l`, `FrontFoot_R`; its segments may go without a word, as `fore_upper_l`. */
function onLimbOfFour(
  word: PartWord | null,
  tokens: ReadonlySet<NameToken>,
  side: Side | null,
): PartWord | null {
  const isNameless = word === null && side !== null && !tokens.has("face") && !tokens.has("loose");
  const isUpper = tokens.has("upper");
  if (isNameless && !tokens.has("fin") && isUpper !== tokens.has("lower")) {
    if (tokens.has("fore")) return isUpper ? "upperArm" : "forearm";
    if (tokens.has("hind")) return isUpper ? "thigh" : "shin";
  }
  if (word === null || !tokens.has("fore")) return word;
  return foreLimb[word] ?? word;
}

const foreLimb: Partial<Record<PartWord, PartWord>> = {
  thigh: "upperArm",
  leg: "arm",
  shin: "forearm",
  foot: "hand",
  toes: "finger",
};

function partOfTokens(tokens: ReadonlySet<NameToken>, side: Side | null): PartWord | null {
  if (tokens.has("face") || tokens.has("loose")) return null;
  if (tokens.has("fin")) return tokens.has("tail") ? "tail" : null;
  if (tokens.has("toes")) return "toes";
  if (tokens.has("finger")) return "finger";
  if (tokens.has("fingerOrOrder")) {
    if (tokens.has("foot")) return "toes";
    if (tokens.has("hand") || ![...firstParts, ...lastParts].some((part) => tokens.has(part)))
      return "finger";
  }
  if (tokens.has("arm")) {
    if (tokens.has("lower") || tokens.has("fore")) return "forearm";
    if (tokens.has("upper")) return "upperArm";
  }
  if (tokens.has("leg")) {
    if (tokens.has("lower")) return "shin";
    if (tokens.has("upper")) return "thigh";
  }
  for (const part of firstParts) if (tokens.has(part)) return part;
  if (tokens.has("hip")) return side === null ? "pelvis" : "hip";
  for (const part of lastParts) if (tokens.has(part)) return part;
  if (tokens.has("back")) return "spine";
  return tokens.has("root") ? "root" : tokens.has("holder") ? "holder" : null;
}
