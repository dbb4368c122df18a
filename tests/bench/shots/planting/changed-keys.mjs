// @ts-check
/**
 * Keys by which one keyed shot differs from another.
 * @import { ChannelName, Interpolation, Key, KeyedCurve, KeyedShot, Place } from "../types.d.ts"
 * @import { ChangedKey } from "./planting.d.ts"
 */

/** Metres or degrees up to which two values are the same: far below what is seen, far above what rounding leaves. */
const sameWithin = 1e-5;
/** Two keys nearer than this many frames stand on the same frame, as in documents. */
const sameFrame = 1e-4;

/**
 * @param {KeyedShot} shot
 * @param {KeyedShot} other
 * @returns {Map<string, ChangedKey>} by "joint channel frame"
 */
export function changedKeys(shot, other) {
  /** @type {Map<string, ChangedKey>} */
  const changed = new Map();
  for (const name of new Set([...shot.curves.keys(), ...other.curves.keys()])) {
    const here = shot.curves.get(name);
    const there = other.curves.get(name);
    const { joint, channel } = /** @type {KeyedCurve} */ (here ?? there);
    const before = keysByFrame(there);
    const after = keysByFrame(here);
    for (const id of new Set([...after.keys(), ...before.keys()])) {
      const [a, b] = [after.get(id) ?? null, before.get(id) ?? null];
      if (a !== null && b !== null && isSame(a, modeOf(a, here), b, modeOf(b, there))) continue;
      const frame = /** @type {Key} */ (a ?? b).frame;
      changed.set(`${name} ${id}`, { joint, channel, frame, here: a, there: b });
    }
  }
  return changed;
}

/**
 * What of the looks differs: colours, what is lit when. A fault of these changes no key.
 * @param {KeyedShot} shot @param {KeyedShot} other
 * @returns {string[]} names of what differs, none where nothing does
 */
export function changedLooks(shot, other) {
  const [a, b] = [shot.performance.view, other.performance.view];
  if (a === undefined || b === undefined) return [];
  const colours = Object.keys(a.colours).filter((id) => a.colours[id] !== b.colours[id]);
  const panels = a.panels.filter(({ lit }, n) => JSON.stringify(lit) !== JSON.stringify(b.panels[n]?.lit));
  return [...colours.map((id) => `${id} colour`), ...panels.map(({ id }) => `${id} light`)];
}

/**
 * The changed keys that shape the frames of a fault: those within them, and on each curve the next one on either side.
 * @param {KeyedShot} shot
 * @param {KeyedShot} without the shot without the fault
 * @param {Place} place
 */
export function plannedKeys(shot, without, { from, to }) {
  const changed = changedKeys(shot, without);
  /** @type {Map<string, [number, number]>} */
  const reach = new Map();
  for (const [name, { keys }] of [...without.curves, ...shot.curves]) {
    const [low, high] = reach.get(name) ?? [from, to];
    const before = keys.findLast((key) => key.frame <= from)?.frame ?? from;
    const after = keys.find((key) => key.frame >= to)?.frame ?? to;
    reach.set(name, [Math.min(low, before), Math.max(high, after)]);
  }
  for (const [id, { joint, channel, frame }] of changed) {
    const [low, high] = reach.get(`${joint} ${channel}`) ?? [from, to];
    if (frame < low - sameFrame || frame > high + sameFrame) changed.delete(id);
  }
  return changed;
}

/**
 * The last frame on which a fault is seen: a pose in step keys stays until its curve's next key, however early the fault
 * itself is over.
 * @param {KeyedShot} shot @param {ReadonlyMap<string, ChangedKey>} planned the fault's keys @param {Place} place
 */
export function seenTo(shot, planned, { to }) {
  let last = to;
  for (const { joint, channel, frame, here } of planned.values()) {
    const curve = shot.curves.get(`${joint} ${channel}`);
    if (here === null || curve === undefined || frame > to || modeOf(here, curve) !== "step") continue;
    const next = curve.keys.find((key) => key.frame > frame + sameFrame);
    if (next !== undefined) last = Math.max(last, Math.ceil(next.frame - sameFrame) - 1);
  }
  return last;
}

/**
 * How a key is called here.
 * @param {string} joint @param {ChannelName} channel @param {number} frame
 */
export const keyId = (joint, channel, frame) => `${joint} ${channel} ${frameId(frame)}`;

/** @param {number} frame */
const frameId = (frame) => String(Math.round(frame / sameFrame) * sameFrame).slice(0, 10);

/** @param {KeyedCurve | undefined} curve @returns {Map<string, Key>} */
function keysByFrame(curve) {
  return new Map((curve?.keys ?? []).map((key) => [frameId(key.frame), key]));
}

/** @param {Key} key @param {KeyedCurve | undefined} curve @returns {Interpolation} */
const modeOf = (key, curve) => key.interpolation ?? /** @type {KeyedCurve} */ (curve).interpolation;

/** @param {Key} a @param {Interpolation} modeA @param {Key} b @param {Interpolation} modeB */
function isSame(a, modeA, b, modeB) {
  return (
    modeA === modeB &&
    Math.abs(a.value - b.value) <= sameWithin &&
    isSameHandle(a.in, b.in) &&
    isSameHandle(a.out, b.out)
  );
}

/** @param {[number, number] | undefined} a @param {[number, number] | undefined} b */
function isSameHandle(a, b) {
  if (a === undefined || b === undefined) return a === b;
  return Math.abs(a[0] - b[0]) <= sameWithin && Math.abs(a[1] - b[1]) <= sameWithin;
}
