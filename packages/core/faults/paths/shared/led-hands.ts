import { inDegrees } from "../../../base/constants.ts";
import { minus, plus, scaled, type Vector } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { placesIn, reaching } from "../../shared/examples/limbs.ts";
import { type Curves, eased, everyFrame } from "../../shared/examples/motions.ts";

/** Hands that are led along a path, as a rig with a handle at the wrist does it; for examples. */

/** Bones of the biped's arm from the shoulder to the wrist, metres. */
const upperArm = 0.28;
const forearm = 0.25;

/**
 * The biped's left arm on frames 1 to 60, its wrist led along a path before the body.
 * @param path metres from the shoulder: to the side, and up
 */
export function armAlong(path: (frame: number) => readonly [x: number, y: number]): Curves {
  const elbow = (frame: number) => {
    const [x, y] = path(frame);
    // Law of cosines.
    return Math.acos((x * x + y * y - upperArm ** 2 - forearm ** 2) / (2 * upperArm * forearm));
  };
  const shoulder = (frame: number) => {
    const [x, y] = path(frame);
    const bend = elbow(frame);
    return Math.atan2(y, x) - Math.atan2(forearm * Math.sin(bend), upperArm + forearm * Math.cos(bend));
  };
  return {
    "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => inDegrees(shoulder(frame))),
    "forearm_l rotation.z": everyFrame(1, 60, (frame) => inDegrees(elbow(frame))),
  };
}

/** Ends of the line along which {@link onLine} leads a wrist, metres from the shoulder. */
const low = [0.15, -0.35] as const;
const high = [0.4, 0.25] as const;

/** A place on a line past the shoulder, by the share of it that is gone, and beside it by a share of its length. */
export function onLine(gone: number, beside: number): readonly [x: number, y: number] {
  const dx = high[0] - low[0];
  const dy = high[1] - low[1];
  return [low[0] + gone * dx + beside * dy, low[1] + gone * dy - beside * dx];
}

/** How far a way bows, of which a share is gone: once in its middle. */
export const bowed = (gone: number) => 4 * gone * (1 - gone);

/** The frame up to which the dancer's right hand rests, before it is led on. */
export const rested = 121;

/**
 * The dancer's right hand comes to rest after the landing, and is then led to another place.
 * @param goal world place, centimetres
 * @param way at a frame, the share of the way that is gone, and centimetres over it
 */
export function ledHand(
  shot: Shot,
  goal: Vector,
  way: (frame: number) => { readonly gone: number; readonly raised: number },
): KeyEdit[] {
  const rest = placesIn(shot)("hand_r", 119);
  return reaching(shot, {
    limb: ["upper_arm_r", "forearm_r", "hand_r"],
    frames: [113, 136],
    to: (place, frame) => {
      if (frame <= rested) return between(place, rest, eased(112, 119, 0, 1)(frame));
      const { gone, raised } = way(frame);
      return plus(between(rest, goal, gone), [0, raised, 0]);
    },
  });
}

const between = (a: Vector, b: Vector, share: number): Vector => plus(a, scaled(minus(b, a), share));
