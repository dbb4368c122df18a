import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { curveName } from "../../../../../packages/core/document/inputs.ts";
import type { Channel } from "../../../../../packages/core/document/model.ts";
import type { CurveDocument } from "../../../../../packages/core/document/schema.ts";
import {
  type Curves,
  everyFrame,
  jumpDocument,
  walkDocument,
} from "../../../../../packages/core/faults/shared/examples/motions.ts";
import {
  isPlanted,
  isTouched,
  standsNear,
} from "../../../../../packages/core/faults/spacing/shared/touch.ts";
import { impactsOf } from "../../../../../packages/core/motion/body/impact.ts";
import { channelSeriesOf } from "../../../../../packages/core/rig/channels.ts";
import { rigOf } from "../../../../../packages/core/rig/rig.ts";
import { gridOf } from "../../../../../packages/core/time/grid.ts";
import { studyOf } from "../../../../support/shots.ts";

/**
 * A fault that is put into a clean motion makes no excuse: not for itself and not for another one, on whatever part that
 * may show it. It is counted in how many frames of how many parts a contact, a standing limb or an impact may excuse what is found.
 */

type Document = (curves: Curves) => CurveDocument;

const documents: readonly Document[] = [
  (curves) => walkDocument({ steps: 4 }, curves),
  (curves) => jumpDocument({}, curves),
  (curves) => jumpDocument({ forward: 0.8, air: 16 }, curves),
];

/** Frames in which a part may be excused, summed over all parts of the figure. */
function excusedFrames(document: CurveDocument): number {
  const study = studyOf(document);
  const impacts = impactsOf(study, 0);
  let sum = 0;
  for (let node = 0; node < rigOf(study).count; node++) {
    for (let i = 1; i < gridOf(study).count; i++) {
      const isSo =
        impacts[i] === 1 ||
        isTouched(study, node, i, i) ||
        isPlanted(study, node, i, i) ||
        standsNear(study, node, i, i);
      if (isSo) sum++;
    }
  }
  return sum;
}

const motions = documents.map((document) => {
  const whole = document({});
  const study = studyOf(whole);
  const { count } = gridOf(study);
  const course = (node: string, channel: Channel) => {
    const series = channelSeriesOf(study, curveName(node, channel));
    return (frame: number) => series?.[Math.min(count, Math.max(1, frame)) - 1] ?? 0;
  };
  return { document, count, course, excused: excusedFrames(whole) };
});

const which = fc.integer({ min: 0, max: motions.length - 1 });
const at = fc.double({ min: 0.1, max: 0.9, noNaN: true });
const length = fc.integer({ min: 1, max: 2 });
/**
 * What carries no foot; the hips travel in other properties (`excuses.test.ts`). Of legs this does not hold: a slip of one
 * as its foot leaves the ground moves the end of the contact by a frame or two.
 */
const joint = fc.constantFrom("spine", "chest", "head", "upper_arm_l", "forearm_r", "hand_l");
const axis = fc.constantFrom("rotation.x", "rotation.z" as const);
/** Degrees: above the floor of a pop. */
const turn = fc.oneof(
  fc.double({ min: 5, max: 30, noNaN: true }),
  fc.double({ min: -30, max: -5, noNaN: true }),
);

/** A motion with one channel changed: what it is at a frame, and how it went. */
function changed(
  { document, count, course }: (typeof motions)[number],
  node: string,
  channel: Channel,
  change: (course: (frame: number) => number, frame: number) => number,
): number {
  const own = course(node, channel);
  return excusedFrames(
    document({ [`${node} ${channel}`]: everyFrame(1, count, (frame) => change(own, frame)) }),
  );
}

/** The same cases in each run. */
const always = { numRuns: 50, seed: 20 };

describe("no fault of a part that carries no foot makes an excuse", () => {
  test("a pop of a joint", () => {
    fc.assert(
      fc.property(which, joint, axis, at, length, turn, (k, node, channel, share, frames, off) => {
        const from = Math.round(share * motions[k].count);
        const excused = changed(
          motions[k],
          node,
          channel,
          (own, frame) => own(frame) + (frame >= from && frame < from + frames ? off : 0),
        );
        expect(excused).toBeLessThanOrEqual(motions[k].excused);
      }),
      { ...always, examples: [[2, "forearm_r", "rotation.z", 0.1, 2, 5]] },
    );
  });

  test("a hitch of a joint", () => {
    fc.assert(
      fc.property(which, joint, axis, at, length, (k, node, channel, share, frames) => {
        const from = Math.round(share * motions[k].count);
        const excused = changed(motions[k], node, channel, (own, frame) =>
          own(frame >= from && frame < from + frames ? from - 1 : frame),
        );
        expect(excused).toBeLessThanOrEqual(motions[k].excused);
      }),
      always,
    );
  });

  test("a jump of a joint", () => {
    fc.assert(
      fc.property(which, joint, axis, at, turn, (k, node, channel, share, off) => {
        const from = Math.round(share * motions[k].count);
        const excused = changed(
          motions[k],
          node,
          channel,
          (own, frame) => own(frame) + (frame >= from ? off : 0),
        );
        expect(excused).toBeLessThanOrEqual(motions[k].excused);
      }),
      always,
    );
  });
});
