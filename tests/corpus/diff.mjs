// @ts-check
/** What has become of a source's notes: gone, new, changed, the same. */

/** @typedef {import("./rows.mjs").Row} Row */

/**
 * @typedef {object} Changed
 * @property {Row} before @property {Row} after
 * @property {readonly Field[]} fields in which they differ
 */

/**
 * @typedef {object} Difference
 * @property {readonly Row[]} gone @property {readonly Row[]} added
 * @property {readonly Changed[]} changed @property {readonly Row[]} same
 */

/** What two notes that are the same one can differ in. */
export const fields = /** @type {const} */ ([
  "tier",
  "waived",
  "figure",
  "frames",
  "value",
  "quantity",
  "keys",
]);
/** @typedef {(typeof fields)[number]} Field */

/**
 * Compares two tables. Two rows are the same note where check and node are the same and their frames overlap; where
 * several do, those that share the greatest part of their frames, then those that differ in the least.
 * @param {readonly Row[]} before @param {readonly Row[]} after
 * @returns {Difference}
 */
export function differenceOf(before, after) {
  const freeBefore = new Set(before);
  const freeAfter = new Set(after);
  /** @type {Changed[]} */
  const pairs = [];
  for (const pair of candidates(before, after)) {
    if (!freeBefore.has(pair.before) || !freeAfter.has(pair.after)) continue;
    freeBefore.delete(pair.before);
    freeAfter.delete(pair.after);
    pairs.push(pair);
  }
  const inOrder = new Map(after.map((row, i) => [row, i]));
  const place = (/** @type {Changed} */ pair) => inOrder.get(pair.after) ?? 0;
  pairs.sort((a, b) => place(a) - place(b));
  return {
    gone: [...freeBefore],
    added: [...freeAfter],
    changed: pairs.filter((pair) => pair.fields.length > 0),
    same: pairs.filter((pair) => pair.fields.length === 0).map((pair) => pair.after),
  };
}

/** @param {Difference} difference */
export function isNone({ gone, added, changed }) {
  return gone.length + added.length + changed.length === 0;
}

/** Pairs that can be the same note, the surest first. @param {readonly Row[]} before @param {readonly Row[]} after */
function candidates(before, after) {
  const pairs = before.flatMap((one) =>
    after
      .filter(({ check, node }) => check === one.check && node === one.node)
      .map((other) => ({
        before: one,
        after: other,
        fields: fields.filter((field) => String(one[field]) !== String(other[field])),
        common: commonPart(one.frames, other.frames),
      })),
  );
  return pairs
    .filter(({ common }) => common > 0)
    .sort((a, b) => b.common - a.common || a.fields.length - b.fields.length);
}

/** Frames that two stretches share, over those that either has. @param {Row["frames"]} a @param {Row["frames"]} b */
function commonPart(a, b) {
  if (a === null || b === null) return a === b ? 1 : 0;
  const common = Math.min(a[1], b[1]) - Math.max(a[0], b[0]) + 1;
  return common <= 0 ? 0 : common / (Math.max(a[1], b[1]) - Math.min(a[0], b[0]) + 1);
}
