/** A generator of numbers from 0 to 1 (mulberry32, public domain), so that each run draws the same placements. */
export function randomFrom(seed) {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return {
    next,
    /** A number between two. */
    between: (low, high) => low + (high - low) * next(),
    /** A whole number between two, both included. */
    whole: (low, high) => low + Math.floor((high - low + 1) * next()),
    sign: () => (next() < 0.5 ? -1 : 1),
    pick: (list) => list[Math.floor(list.length * next())],
  };
}

/** A seed of its own for every text. */
export function seedOf(text) {
  let hash = 2166136261;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 16777619);
  return hash >>> 0;
}
