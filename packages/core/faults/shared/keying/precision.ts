import type { Study } from "../../../base/study.ts";
import type { Channel } from "../../../document/model.ts";
import { statureNear } from "../../../motion/path/moves.ts";
import { metresPerChannelUnit } from "../../../rig/reach.ts";
import { radiansPerUnitOf } from "../../../rig/rig.ts";

/** How far keys may leave a course that they are to follow, in body heights: half a millimetre of a grown person. */
const followShare = 0.0003;
/** Values are written to a hundredth of a millimetre of what they move: finer digits are only noise in the text. */
const finest = 1e-5;
/** Reach that a turn is judged at where nothing hangs on the joint, in body heights: a hand's length. */
const leastReach = 0.05;

/** Metres that a unit of a channel moves, never 0. */
export function metresPerUnitOfChannel(study: Study, node: number, channel: Channel): number {
  const metres = metresPerChannelUnit(study, node, channel);
  const least = leastReach * statureNear(study, node);
  if (channel.startsWith("translation")) return metres;
  if (channel.startsWith("rotation.")) return Math.max(metres, radiansPerUnitOf(study) * least);
  return Math.max(metres, least);
}

/** How far a channel may be off a course that its keys are to follow, in its own units. */
export function toleranceOf(study: Study, node: number, channel: Channel): number {
  return (followShare * statureNear(study, node)) / metresPerUnitOfChannel(study, node, channel);
}

/** Decimals with which values of a channel are written. */
export function decimalsOf(study: Study, node: number, channel: Channel): number {
  const unit = finest / metresPerUnitOfChannel(study, node, channel);
  return Math.min(8, Math.max(0, Math.ceil(-Math.log10(unit) - 1e-9)));
}

/** A number with at most so many decimals, without negative zero. */
export function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}
