import type { Study } from "../../../base/study.ts";
import { sampleCurve, valueAt } from "../../../curve/evaluate.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Channel, Curve } from "../../../document/model.ts";
import { curveNamesOfNode } from "../../../rig/channels.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";

/**
 * What a channel of a node does over time, driven or not. Values are in document units at any frame of the document;
 * turns of a quaternion curve are read and written as four numbers.
 */
export interface Track {
  /** Rig index. */
  readonly node: number;
  readonly id: string;
  readonly channel: Channel;
  /** Null where nothing drives the channel. */
  readonly curve: Curve | null;
  readonly width: 1 | 4;
  /** The value at a frame, `width` numbers. */
  read(frame: number, out: Float64Array): void;
}

/** A channel's course over time: writes `width` numbers for a frame. */
export type Course = (frame: number, out: Float64Array) => void;

/** The tracks that drive a node, in document order. */
export function tracksOf(study: Study, node: number): Track[] {
  const tracks: Track[] = [];
  for (const name of curveNamesOfNode(study, node)) {
    const curve = curveOf(study, name);
    if (curve !== null && curve.frames.length > 0) tracks.push(curveTrack(node, curve));
  }
  return tracks;
}

/** The tracks of a node that turn it. */
export function turnTracksOf(study: Study, node: number): Track[] {
  return tracksOf(study, node).filter(({ channel }) => channel.startsWith("rotation"));
}

/** A channel of a node, with its rest value where nothing drives it. */
export function trackOf(study: Study, node: number, channel: Channel): Track {
  const { ids } = rigOf(study);
  const curve = curveOf(study, curveName(ids[node], channel));
  if (curve !== null && curve.frames.length > 0) return curveTrack(node, curve);
  const rest = restValueOf(study, node, channel);
  const read: Course = (_, out) => out.set(rest);
  return { node, id: ids[node], channel, curve: null, width: channel === "rotation" ? 4 : 1, read };
}

function curveTrack(node: number, curve: Curve): Track {
  const { node: id, channel, width } = curve;
  const at = new Float64Array(1);
  const read: Course =
    width === 1
      ? (frame, out) => {
          out[0] = valueAt(curve, frame);
        }
      : (frame, out) => {
          at[0] = frame;
          sampleCurve(curve, at, out);
        };
  return { node, id, channel, curve, width, read };
}

/** Value of a channel that nothing drives, in document units. */
export function restValueOf(study: Study, node: number, channel: Channel): number[] {
  const rig = rigOf(study);
  if (channel === "rotation") return [0, 0, 0, 1];
  const at = 3 * node + "xyz".indexOf(channel[channel.length - 1]);
  if (channel.startsWith("translation")) return [rig.translation[at]];
  if (channel.startsWith("scale")) return [rig.restScale[at]];
  return [rig.restRotation[at] / radiansPerUnitOf(study)];
}
