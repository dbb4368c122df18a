import { standardGravity } from "../../../base/constants.ts";
import { rotated } from "../../../base/quaternion.ts";
import { plus, type Vector } from "../../../base/vector.ts";
import type { Shot } from "../../../document/model.ts";
import { shotOf } from "../../../document/read.ts";
import type { CurveDocument, PropSpec, ShapeSpec } from "../../../document/schema.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { defaultSettings } from "../../../settings/resolve.ts";
import { studyOf } from "../../../settings/study.ts";
import { gridOf } from "../../../time/grid.ts";
import {
  along,
  bipedDocument,
  type Curves,
  documentOf,
  eased,
  everyFrame,
} from "../../shared/examples/motions.ts";

/** Small motions of a biped that holds a thing. */

/** Where a node is at a frame, and where a point of its space is; metres. */
export interface Carrier {
  at(frame: number): Vector;
  point(frame: number, offset: Vector): Vector;
}

/** A node's course through a motion. */
export function carrierIn(document: CurveDocument, node: string): Carrier {
  const study = studyOf(shotOf(document).shot as Shot, defaultSettings([]));
  const { position, orientation } = worldOf(study, rigOf(study).indexOf.get(node) as number);
  const { frames } = gridOf(study);
  const at = (frame: number): Vector => {
    const i = 3 * frames.indexOf(frame);
    return [position[i], position[i + 1], position[i + 2]];
  };
  const point = (frame: number, offset: Vector) =>
    plus(at(frame), rotated(orientation, offset, 4 * frames.indexOf(frame)));
  return { at, point };
}

export interface Held {
  readonly node: string;
  /** Where it is at a frame, by the course of the hand; metres. */
  readonly path: (frame: number, hand: Carrier) => Vector;
  readonly shapes?: ShapeSpec[];
  readonly prop?: Omit<PropSpec, "node">;
}

/** A motion over a stretch of frames with a thing whose place follows from where the left hand is. */
export function withHeld(
  document: CurveDocument,
  [first, last]: readonly [number, number],
  { node, path, shapes, prop }: Held,
): CurveDocument {
  const hand = carrierIn(document, "hand_l");
  const own = documentOf(
    [],
    along(node, first, last, (frame) => path(frame, hand)),
  ).curves;
  return {
    ...document,
    nodes: [...document.nodes, { id: node, ...(shapes === undefined ? {} : { shapes }) }],
    curves: [...document.curves, ...own],
    props: [{ node, ...prop }],
  };
}

/** The biped over a stretch of frames with a thing in its left hand. */
export function holdingDocument(curves: Curves, range: readonly [number, number], held: Held): CurveDocument {
  return withHeld(bipedDocument(curves, { range }), range, held);
}

/** The left arm swings from the side to the front, on every frame. */
export const swing: Curves = {
  "upper_arm_l rotation.y": everyFrame(1, 60, eased(8, 40, 0, -70)),
  "forearm_l rotation.y": everyFrame(1, 60, eased(12, 44, 0, -25)),
};

/**
 * The biped over frames 1 to 48 with a ball that lies over its left hand for as long as that has it, and flies under gravity
 * before or after.
 * @param has first and last frame in the hand
 */
export function withBall(curves: Curves, has: readonly [number, number], flies = true): CurveDocument {
  return holdingDocument(curves, [1, 48], {
    node: "ball",
    shapes: [{ kind: "sphere", radius: 0.05 }],
    path: (frame, hand) => {
      const held = Math.min(has[1], Math.max(has[0], frame));
      const time = flies ? Math.abs(frame - held) / 24 : 0;
      return plus(hand.at(held), [0, 0.06 + 6 * time - (standardGravity / 2) * time * time, 1.5 * time]);
    },
  });
}
