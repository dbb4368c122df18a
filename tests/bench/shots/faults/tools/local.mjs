// @ts-check
/**
 * How far a joint's own motion carries what hangs on it: the end of its limb, seen from the joint's parent.
 *
 * Faults overlap. In the parent's frame a joint shows its own channels only, so that a pop of the trunk is no pop of
 * the hand. What hangs on the joint is taken as it is in the twin.
 * @import { Body, ChannelName, Figure, Joint, KeyedShot, Poses, Vector } from "../../types.d.ts"
 */
import { add, fromAngles, multiply, rotate } from "../../../../../demo/motion/vector.mjs";
import { sampled } from "../../poses.mjs";

/** What the measures need of poses: local values of channels. @typedef {Pick<Poses, "first" | "count" | "performance" | "keyed" | "channel">} Channels */

/** @type {WeakMap<KeyedShot, Channels>} */
const known = new WeakMap();

/**
 * Channel values of a keyed shot on whole frames. What was read of a curve is kept: not for a shot that is being changed.
 * @param {KeyedShot} shot @returns {Channels}
 */
export function channelsOf(shot) {
  const before = known.get(shot);
  if (before !== undefined) return before;
  const { first, last } = shot.performance;
  const joints = jointsById(shot.performance.figures);
  /** @type {Map<string, Float64Array>} */
  const tracks = new Map();
  /** @type {Channels} */
  const channels = {
    first,
    count: last - first + 1,
    performance: shot.performance,
    keyed: shot,
    channel: (joint, channel, frame) => {
      const name = `${joint} ${channel}`;
      let values = tracks.get(name);
      if (values === undefined) {
        const curve = shot.curves.get(name);
        const rest = restOf(joints.get(joint), channel);
        const count = last - first + 1;
        values = curve === undefined ? new Float64Array(count).fill(rest) : sampled(curve, first, count);
        tracks.set(name, values);
      }
      return values[Math.max(0, Math.min(values.length - 1, Math.round(frame) - first))];
    },
  };
  known.set(shot, channels);
  return channels;
}

/** Value of a channel that no curve drives. @param {Joint | undefined} joint @param {ChannelName} channel */
export function restOf(joint, channel) {
  if (channel.startsWith("scale")) return 1;
  if (channel.startsWith("rotation") || joint === undefined) return 0;
  return joint.at["xyz".indexOf(channel.slice(-1))];
}

/** @type {WeakMap<readonly Figure[], Map<string, Joint>>} */
const maps = new WeakMap();

/** @param {readonly Figure[]} figures @returns {Map<string, Joint>} */
export function jointsById(figures) {
  let found = maps.get(figures);
  if (found === undefined) {
    found = new Map(figures.flatMap(({ body }) => body.joints.map((joint) => [joint.id, joint])));
    maps.set(figures, found);
  }
  return found;
}

/**
 * What a joint moves: the joints from it to the end of its limb (for trunk and root: to the head), and a point in the
 * space of the last one.
 * @typedef {object} Lever
 * @property {readonly Joint[]} chain @property {Vector} end
 */

/** Length of what lies beyond a last joint, as a share of the stature: a hand is 0.108, half a head 0.065 (Drillis & Contini 1966). */
const beyond = 0.08;

/** @param {Body} body @param {string} joint @returns {Lever} */
export function leverOf(body, joint) {
  const limb = body.limbs.find(({ joints }) => joints.includes(joint));
  const way =
    limb !== undefined
      ? limb.joints.slice(limb.joints.indexOf(joint))
      : wayTo(body, joint, body.head ?? body.trunk[body.trunk.length - 1]);
  const chain = way.map((id) => /** @type {Joint} */ (body.joints.find((one) => one.id === id)));
  const { at } = chain[chain.length - 1];
  const length = Math.hypot(...at);
  const reach = (beyond * body.stature) / (length || 1);
  /** @type {Vector} */
  const end = length > 1e-6 ? [at[0] * reach, at[1] * reach, at[2] * reach] : [0, beyond * body.stature, 0];
  return { chain, end };
}

/** @param {Body} body @param {string} from @param {string} to @returns {string[]} joints from one down to another; only the first if it does not hang there */
function wayTo(body, from, to) {
  const parents = new Map(body.joints.map(({ id, parent }) => [id, parent]));
  const way = [];
  for (let at = /** @type {string | null} */ (to); at !== null; at = parents.get(at) ?? null) {
    way.unshift(at);
    if (at === from) return way;
  }
  return [from];
}

/** @typedef {Partial<Record<ChannelName, number>>} Nudge added to channels */

/**
 * A joint's own turn and place.
 * @param {Channels} poses @param {Joint} joint @param {number} frame @param {Nudge} [nudge]
 */
export function localOf(poses, joint, frame, nudge = {}) {
  const read = (/** @type {ChannelName} */ channel) =>
    poses.channel(joint.id, channel, frame) + (nudge[channel] ?? 0);
  return {
    turn: fromAngles(joint.order, [read("rotation.x"), read("rotation.y"), read("rotation.z")]),
    at: [read("translation.x"), read("translation.y"), read("translation.z")],
  };
}

/**
 * The end of a joint's lever in the frame of its parent.
 * @param {Channels} poses the joint's own channels @param {Channels} twin those of the joints behind it
 * @param {Lever} lever @param {number} frame @param {Nudge} [nudge]
 * @returns {number[]} metres
 */
export function leverEnd(poses, twin, { chain, end }, frame, nudge) {
  let point = /** @type {number[]} */ (end);
  for (let n = chain.length - 1; n >= 0; n--) {
    const { turn, at } = localOf(n === 0 ? poses : twin, chain[n], frame, n === 0 ? nudge : undefined);
    point = add(at, rotate(turn, point));
  }
  return point;
}

/**
 * The end of a lever in the frame of what carries it, moved by some of its joints.
 * @param {Channels} poses channels of those joints @param {Channels} twin channels of the others
 * @param {Lever} lever @param {readonly string[]} joints @param {number} frame
 * @returns {number[]} metres
 */
export function chainEnd(poses, twin, { chain, end }, joints, frame) {
  let point = /** @type {number[]} */ (end);
  for (let n = chain.length - 1; n >= 0; n--) {
    const { turn, at } = localOf(joints.includes(chain[n].id) ? poses : twin, chain[n], frame);
    point = add(at, rotate(turn, point));
  }
  return point;
}

/** Angle between two turns, degrees. @param {readonly number[]} a @param {readonly number[]} b */
export function angleBetween(a, b) {
  const [x, y, z, w] = multiply([-a[0], -a[1], -a[2], a[3]], [...b]);
  return (2 * Math.atan2(Math.hypot(x, y, z), Math.abs(w)) * 180) / Math.PI;
}
