/** Numbers that follow from a seed alone: the same seed gives the same inputs on every machine. */
export function randomFrom(seed) {
  let state = seed >>> 0 || 1;
  /** A number from 0 on, below 1 (xorshift, Marsaglia 2003). */
  const next = () => {
    state ^= state << 13;
    state >>>= 0;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4294967296;
  };
  const below = (count) => Math.floor(next() * count);
  return { next, below, of: (list) => list[below(list.length)] };
}
