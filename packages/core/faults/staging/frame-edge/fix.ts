import { inRadians } from "../../../base/constants.ts";
import { plus, scaled } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { lensOf } from "../../../staging/camera.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { shiftedAtKeys } from "../../shared/posing/turned-keys.ts";
import { cameraAt, cameraKeys } from "../shared/camera-keys.ts";
import { axesOfSight, keysOf, type Turning, waysToTurn } from "../shared/turnings.ts";
import { type FrameEdgeFinding, frameEdge } from "./check.ts";

export const frameEdgeFix = defineFix(frameEdge, {
  what: "Turns an arm at the shoulder by the least that brings its hand into the safe area; for a head, turns or moves the camera.",
  title: ({ node, frames }) => `bring ${node ?? "the part"} into the picture from frame ${frames[0]} on`,
  *propose(subject) {
    const { study, finding } = subject;
    const lens = lensOf(study);
    if (lens === null) return;
    const turnings: Turning[] = [];
    for (const degrees of finding.joint < 0 ? [] : [8, 15, 25, 40, 60]) {
      for (const axis of [0, 2] as const) {
        for (const angle of [inRadians(degrees), -inRadians(degrees)])
          turnings.push({
            node: finding.joint,
            turnAt: (i) => scaled(axesOfSight(lens, i)[axis], angle),
          });
      }
    }
    yield* waysToTurn(study, finding, turnings);
    yield* reframed(subject);
  },
});

/** How many times the mean by which a part is over the edge is made up: what sways is farther over at times. */
const shares = [1.2, 1.6, 2.2, 3];

/** The camera turned, or moved where it has no perspective, until the part is in the picture. */
function* reframed({ study, finding }: Subject<FrameEdgeFinding>): Generator<readonly KeyEdit[]> {
  const lens = lensOf(study);
  const camera = cameraAt(study, finding.from);
  // Who lets a camera stand has chosen the picture.
  if (lens === null || camera < 0 || cameraKeys(study, camera, finding.from, finding.to).length === 0) return;
  const { from, towards, numbers } = finding;
  const heights = shares.map((share) => share * numbers.beyond);
  if (lens.flat[from] === 1) {
    for (const by of heights) {
      for (const within of keysOf(study, camera, finding))
        yield shiftedAtKeys(study, camera, within, (i) => {
          const [, right, up] = axesOfSight(lens, i);
          const metres = 2 * lens.half[i] * by;
          return plus(scaled(right, metres * towards[0]), scaled(up, metres * towards[1]));
        });
    }
    return;
  }
  const turnings = heights.map((by) => ({
    node: camera,
    turnAt: (i: number) => {
      const [, right, up] = axesOfSight(lens, i);
      const angle = Math.atan(2 * lens.half[i] * by);
      return plus(scaled(right, angle * towards[1]), scaled(up, -angle * towards[0]));
    },
  }));
  yield* waysToTurn(study, finding, turnings);
}
