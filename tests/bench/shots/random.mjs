// @ts-check
/**
 * Numbers that look random and are the same for the same seed.
 *
 * A stream is known by its path: `randomOf("a").fork("b")` is always the stream of "a/b", however much was drawn
 * from "a" before. So nobody's draws shift anybody else's.
 * @import { Random } from "./types.d.ts"
 */

/**
 * The stream of a seed.
 * @param {string} seed any text
 * @returns {Random}
 */
export function randomOf(seed) {
  const next = sfc32(hashed(seed));
  /** @type {Random} */
  const random = {
    next,
    between: (low, high) => low + (high - low) * next(),
    integer: (low, high) => low + Math.floor((high - low + 1) * next()),
    chance: (probability) => next() < probability,
    pick: (list) => list[Math.floor(list.length * next())],
    shuffled: (list) => {
      const cards = [...list];
      for (let left = cards.length - 1; left > 0; left--) {
        const at = Math.floor((left + 1) * next());
        [cards[left], cards[at]] = [cards[at], cards[left]];
      }
      return cards;
    },
    fork: (name) => randomOf(`${seed}/${name}`),
  };
  return random;
}

/**
 * Four words of state from a text: FNV-1a with four offsets, each finished by the mixing steps of MurmurHash3
 * (both public domain).
 * @param {string} text
 * @returns {[number, number, number, number]}
 */
function hashed(text) {
  const words = [0x811c9dc5, 0x01000193 ^ 0x9e3779b9, 0x85ebca6b, 0xc2b2ae35].map((offset) => {
    let hash = offset;
    for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 16777619);
    hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
    return (hash ^ (hash >>> 16)) >>> 0;
  });
  return /** @type {[number, number, number, number]} */ (words);
}

/**
 * The generator sfc32 (Chris Doty-Humphrey, PractRand, public domain): 128 bits of state with a counter in it.
 * @param {[number, number, number, number]} state
 * @returns {() => number} in [0, 1)
 */
function sfc32(state) {
  let [a, b, c, counter] = state;
  const next = () => {
    const sum = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    return (sum >>> 0) / 4294967296;
  };
  // The first numbers still show the seed.
  for (let i = 0; i < 15; i++) next();
  return next;
}
