import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import {
  everyFrame,
  jump,
  jumpDocument,
  walk,
  walkDocument,
} from "../../../../packages/core/faults/shared/examples/motions.ts";
import { impactsOf } from "../../../../packages/core/motion/body/impact.ts";
import { isJolted } from "../../../../packages/core/motion/body/jolt.ts";
import { steadyContactsOf } from "../../../../packages/core/motion/ground/contact.ts";
import { steadied } from "../../../../packages/core/motion/path/steady.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { studyOf } from "../../../support/shots.ts";

/** A motion of the hips: frames from 1 on, metres. */
type Hips = (frame: number) => readonly [number, number, number];

/** Clean motions, each as a function of what is done to its hips. The legs hang on the hips as they are keyed. */
const motions = [walk({ steps: 4 }), jump().motion, jump({ forward: 0.8, air: 16 }).motion].map(
  (motion, k) => {
    const document = (
      change: (hips: Hips, frame: number) => readonly [number, number, number],
    ): CurveDocument => {
      const axis = (index: 0 | 1 | 2) =>
        everyFrame(1, motion.last, (frame) => change(motion.hips, frame)[index]);
      const curves = {
        "hips translation.x": axis(0),
        "hips translation.y": axis(1),
        "hips translation.z": axis(2),
      };
      if (k === 0) return walkDocument({ steps: 4 }, curves);
      return jumpDocument(k === 1 ? {} : { forward: 0.8, air: 16 }, curves);
    };
    return { last: motion.last, document };
  },
);

/** Frames at which an impact of the body, or a contact of a limb that begins or ends, may excuse a change. */
function excusedFrames(document: CurveDocument): number {
  const study = studyOf(document);
  const impacts = impactsOf(study, 0).reduce((sum, flag) => sum + flag, 0);
  return impacts + 2 * steadyContactsOf(study, 0).length;
}
const clean = motions.map(({ document }) => excusedFrames(document((hips, frame) => hips(frame))));

const which = fc.integer({ min: 0, max: motions.length - 1 });
/** A direction, and a size from 6 mm on: above the floor of a pop of a body of 1.7 m. */
const push = fc.record({
  size: fc.double({ min: 0.006, max: 0.12, noNaN: true }),
  pitch: fc.double({ min: -1, max: 1, noNaN: true }),
  heading: fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
});
const vectorOf = ({ size, pitch, heading }: { size: number; pitch: number; heading: number }) => {
  const flat = Math.sqrt(1 - pitch * pitch);
  return [size * flat * Math.cos(heading), size * pitch, size * flat * Math.sin(heading)] as const;
};
const at = fc.double({ min: 0.1, max: 0.9, noNaN: true });

describe("no fault makes its own excuse", () => {
  test("a pop of the body for a frame or two, whichever way, never raises the number of excused frames", () => {
    fc.assert(
      fc.property(which, at, fc.integer({ min: 1, max: 2 }), push, (k, share, length, way) => {
        const { last, document } = motions[k];
        const from = Math.round(share * last);
        const off = vectorOf(way);
        const popped = document((hips, frame) => {
          const [x, y, z] = hips(frame);
          return frame >= from && frame < from + length ? [x + off[0], y + off[1], z + off[2]] : [x, y, z];
        });
        expect(excusedFrames(popped)).toBeLessThanOrEqual(clean[k]);
      }),
      { numRuns: 60 },
    );
  });

  test("nor does a hitch", () => {
    fc.assert(
      fc.property(which, at, fc.integer({ min: 1, max: 2 }), (k, share, length) => {
        const { last, document } = motions[k];
        const from = Math.round(share * last);
        const hitched = document((hips, frame) =>
          hips(frame >= from && frame < from + length ? from - 1 : frame),
        );
        expect(excusedFrames(hitched)).toBeLessThanOrEqual(clean[k]);
      }),
      { numRuns: 40 },
    );
  });

  test("nor does a jump of the body to another place over the floor", () => {
    fc.assert(
      fc.property(which, at, push, (k, share, way) => {
        const { last, document } = motions[k];
        const from = Math.round(share * last);
        const off = vectorOf(way);
        const jumped = document((hips, frame) => {
          const [x, y, z] = hips(frame);
          return frame >= from ? [x + off[0], y + Math.abs(off[1]), z + off[2]] : [x, y, z];
        });
        expect(excusedFrames(jumped)).toBeLessThanOrEqual(clean[k]);
      }),
      { numRuns: 40 },
    );
  });
});

describe("a steady path", () => {
  test("is the path itself where that goes one way on each axis, and has no pop of two frames", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 12, maxLength: 40 }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (steps, off) => {
          const path = new Float64Array(3 * steps.length);
          for (let i = 1; i < steps.length; i++) {
            path[3 * i] = path[3 * i - 3] + steps[i];
            path[3 * i + 1] = -path[3 * i];
          }
          expect(steadied(path, 2).every((value, i) => value === path[i])).toBe(true);
          const flat = new Float64Array(3 * steps.length);
          const popped = flat.slice();
          popped.fill(off, 18, 24);
          expect(steadied(popped, 2).every((value) => value === 0)).toBe(true);
        },
      ),
    );
  });
});

describe("an impact", () => {
  const { landing } = jump();
  const study = studyOf(jumpDocument());
  const node = rigOf(study).indexOf.get("hips") ?? -1;

  test("is where a jump lands on both feet, and nowhere in a walk, whose other foot stands", () => {
    const marked = [...impactsOf(study, 0)].flatMap((flag, i) => (flag === 1 ? [i + 1] : []));
    expect(marked.length).toBeGreaterThan(0);
    for (const frame of marked) expect(Math.abs(frame - landing)).toBeLessThanOrEqual(2);
    expect(impactsOf(studyOf(walkDocument()), 0).includes(1)).toBe(false);
  });

  /** The jump with the hips off their path for the frame of the landing. */
  const popped = (y: number, z: number) => {
    const { hips } = jump().motion;
    const axis = (index: 0 | 1 | 2, off: number) =>
      everyFrame(1, jump().motion.last, (frame) => hips(frame)[index] + (frame === landing ? off : 0));
    return studyOf(jumpDocument({}, { "hips translation.y": axis(1, y), "hips translation.z": axis(2, z) }));
  };
  const excuses = (y: number, z: number) =>
    isJolted(popped(y, z), node, landing - 1, landing - 1, "position");

  test("explains a change that goes upward and is no greater than it can give", () => {
    expect(excuses(-0.02, 0)).toBe(true);
    expect(excuses(0.06, 0)).toBe(false);
    expect(excuses(0, 0.06)).toBe(false);
    expect(excuses(-0.4, 0)).toBe(false);
  });
});
