// @ts-check
/**
 * The way back from a document's channels and keys to the bench's own: names, units, axes.
 * @import { ChannelName, Dressing, Key, KeyedCurve } from "../types.d.ts"
 * @import { Stage } from "./records.d.ts"
 */
import { axesOf } from "../dressing/document.mjs";
import { isStaged } from "../dressing/view.mjs";

/** @type {readonly ChannelName[]} */
const channels = /** @type {ChannelName[]} */ (
  ["translation", "rotation", "scale"].flatMap((kind) => [..."xyz"].map((axis) => `${kind}.${axis}`))
);

/**
 * Which of our channels a document's is, and by what its values are multiplied to be ours.
 * @param {Dressing} dressing @param {boolean} isRoot whether the joint has no parent @param {string} channel
 * @param {boolean} [keepsAxes] whether it is a camera, or another thing that is there for the picture
 * @returns {{ channel: ChannelName, factor: number } | null}
 */
export function channelOf(dressing, isRoot, channel, keepsAxes = false) {
  const axes = axesOf(dressing, keepsAxes);
  for (const ours of channels) {
    const { name, sign } = axes.channel(ours, isRoot);
    if (name === channel) {
      return { channel: ours, factor: ours.startsWith("translation") ? sign * dressing.metresPerUnit : sign };
    }
  }
  return null;
}

/** @type {Stage["ours"]} */
export function ours({ dressing }, built, node, channel) {
  const joint = built.jointOf.get(node);
  if (joint === undefined) return null;
  const found = channelOf(dressing, isRoot(built, joint), channel, isStaged(built.poses.performance, joint));
  return found === null ? null : { joint, channel: found.channel };
}

/** @type {Stage["undressed"]} */
export function undressed({ dressing }, built, edited) {
  /** @type {Map<string, KeyedCurve>} */
  const curves = new Map();
  for (const { node, channel, interpolation, keys } of edited) {
    const joint = built.jointOf.get(node);
    const found =
      joint === undefined
        ? null
        : channelOf(dressing, isRoot(built, joint), channel, isStaged(built.poses.performance, joint));
    if (joint === undefined || found === null) throw new Error(`${node} ${channel} is none of the shot's.`);
    const curve = {
      joint,
      channel: found.channel,
      interpolation,
      keys: keys.map((key) => scaled(key, found.factor)),
    };
    curves.set(`${joint} ${found.channel}`, curve);
  }
  return { ...built.keyed, curves };
}

/** @param {Key} key @param {number} factor @returns {Key} */
function scaled(key, factor) {
  return {
    ...key,
    value: key.value * factor,
    ...(key.in === undefined ? {} : { in: [key.in[0], key.in[1] * factor] }),
    ...(key.out === undefined ? {} : { out: [key.out[0], key.out[1] * factor] }),
  };
}

/** Whether a joint hangs on nothing; props do. @param {import("../types.d.ts").BuiltShot} built @param {string} joint */
function isRoot({ poses }, joint) {
  const { figures, props } = poses.performance;
  return props.some(({ id }) => id === joint) || figures.some(({ body }) => isTop(body, joint));
}

/** @param {import("../types.d.ts").Body} body @param {string} joint */
const isTop = ({ joints }, joint) => joints.some(({ id, parent }) => id === joint && parent === null);
