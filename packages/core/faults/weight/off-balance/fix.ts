import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { marginAt, supportPolygonOf } from "../../../motion/body/balance.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { bodyCutsOf } from "../../../motion/path/cuts.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { keysAlone } from "../../shared/keying/rekey.ts";
import { type Faded, fadedBeside, shareAt } from "../../shared/posing/end-courses.ts";
import { withEndsKept } from "../../shared/posing/kept-ends.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { offBalance } from "./check.ts";

export const offBalanceFix = defineFix(offBalance, {
  what: "Brings the hips over the feet; spreads a push that the soles cannot hold over more frames.",
  title: ({ frames }) => `bring the hips over the feet around frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { shot } = subject;
    const { numbers } = subject.finding;
    if (subject.figure < 0) return;
    if ("outside" in numbers) yield* overFeet(subject, shot, numbers.outside);
    else yield* softerPush(subject, shot);
  },
});

function* overFeet(subject: Subject, shot: Shot, outside: number): Generator<KeyEdit[]> {
  const { study, figure, from, to } = subject;
  const { rate } = gridOf(study);
  const hips = hipsOf(study, figure);
  const plain = (samples: number): Faded => ({ from, to, before: samples, after: samples });
  const way = toFeet(subject);
  const least = farthestOut(study, figure, from, to);
  // Poses of step keys beside this one stand for themselves.
  const fades = bodyCutsOf(study, figure).length > 0 ? [12, 9, 6, 0] : [12, 9, 6];
  for (const metres of new Set([1.1 * outside, Math.max(1.1 * outside, least), 1.5 * outside, 2 * outside])) {
    for (const fade of fades) {
      const samples = Math.round((fade * rate) / referenceRate);
      // Poses of step keys are shifted as they are, or with a share of it in those beside them.
      // The poses that are there are shifted where that does; a curve of its own takes more keys.
      for (const faded of [fadedBeside(study, hips, { from, to }, samples), plain(samples)])
        for (const loose of [keysAlone, 1]) yield shifted(subject, shot, faded, metres, way, loose);
    }
  }
}

/** The hips, so many metres nearer to what the body stands on; feet and held hands stay. */
function shifted(
  { study, figure }: Subject,
  shot: Shot,
  faded: Faded,
  metres: number,
  [x, z]: readonly [number, number],
  loose: number,
): KeyEdit[] {
  const { count } = gridOf(study);
  const way = new Float64Array(3 * count);
  for (let i = 0; i < count; i++) {
    const share = shareAt(study, i, faded);
    way[3 * i] = share * metres * x;
    way[3 * i + 2] = share * metres * z;
  }
  const edits = shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way, loose);
  return withEndsKept(study, shot, edits);
}

/** The farthest that the centre of mass itself gets out of the feet, metres. */
function farthestOut(study: Study, figure: number, from: number, to: number): number {
  const centre = massCentreOf(study, figure);
  let most = 0;
  for (let i = from; i <= to; i++) {
    const hull = supportPolygonOf(study, figure, i);
    if (hull.length > 0) most = Math.max(most, -marginAt(hull, centre[3 * i], centre[3 * i + 2]));
  }
  return most;
}

/**
 * Unit vector along the ground from the centre of mass to the middle of what stands, over the note's samples: one way for
 * all of them, or the hips would be led around.
 */
function toFeet({ study, figure, from, to }: Subject): [number, number] {
  const centre = massCentreOf(study, figure);
  let [x, z] = [0, 0];
  for (let i = from; i <= to; i++) {
    const standing = contactsOf(study, figure).filter((contact) => contact.from <= i && contact.to >= i);
    for (const { node } of standing) {
      const { position } = worldOf(study, node);
      x += (position[3 * i] - centre[3 * i]) / standing.length;
      z += (position[3 * i + 2] - centre[3 * i + 2]) / standing.length;
    }
  }
  const size = Math.hypot(x, z);
  return size > 0 ? [x / size, z / size] : [0, 0];
}

/** The hips' way along the ground smoothed over and around the frames of a push. */
function* softerPush({ study, figure, from, to }: Subject, shot: Shot): Generator<KeyEdit[]> {
  const { count, rate } = gridOf(study);
  const hips = hipsOf(study, figure);
  const { position } = worldOf(study, hips);
  for (const frames of [4, 7, 12]) {
    const reach = Math.round((frames * rate) / referenceRate);
    const faded = { from, to, before: 2 * reach, after: 2 * reach };
    const way = new Float64Array(3 * count);
    for (let i = 0; i < count; i++) {
      const share = shareAt(study, i, faded);
      if (share === 0) continue;
      for (const k of [0, 2]) {
        let [sum, weight] = [0, 0];
        for (let j = Math.max(0, i - reach); j <= Math.min(count - 1, i + reach); j++) {
          const w = 1 - Math.abs(j - i) / (reach + 1);
          sum += w * position[3 * j + k];
          weight += w;
        }
        way[3 * i + k] = share * (sum / weight - position[3 * i + k]);
      }
    }
    yield withEndsKept(study, shot, shiftedNode(study, hips, { lo: 0, hi: count - 1 }, way));
  }
}
