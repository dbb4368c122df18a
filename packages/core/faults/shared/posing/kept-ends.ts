import { radiansPerDegree } from "../../../base/constants.ts";
import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { type KeyEdit, tryEditShot } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Shot } from "../../../document/model.ts";
import { allLimbsOf, type PosedLimb } from "../../../motion/ground/all-limbs.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { staysOf } from "../../../motion/parts/stays.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { settingsOf, studyOf } from "../../../settings/study.ts";
import type { Span } from "../../../time/span.ts";
import { mostAdded } from "../keying/keying.ts";
import { type TurnLaying, turnedNode } from "./node-turns.ts";
import type { Samples } from "./offsets.ts";
import { type EndCourse, type LimbJoints, limbTo } from "./two-bone.ts";

/** An end that moves by less than this (metres), or turns by less (radians), is where it was. */
const sameMetres = 2e-4;
const sameAngle = 1e-3;
/** What stands is to stay: a joint of its limb gets a new curve from half a degree on. */
const newFrom = 0.5 * radiansPerDegree;
/**
 * An end stays to half a millimetre of a grown person; where that takes many keys it may be off by so many times that: an
 * animator leaves a drift that nobody sees. Whether it slides is found out by the motion.
 */
const closeness = [1, 3, 6];

/**
 * The same edits, and those of the limbs that hang on what they move and stand, or hold on, meanwhile: their ends stay
 * where they were. A limb is kept where its end touches something, holds a thing, or stays where it is: feet, forefeet of
 * those who go on four, hands. Limbs of which a joint is edited itself are left alone.
 * @param courses where ends are to go instead, by end: for all samples
 */
export function withEndsKept(
  study: Study,
  shot: Shot,
  edits: readonly KeyEdit[],
  courses: ReadonlyMap<number, EndCourse> = new Map(),
): KeyEdit[] {
  const rig = rigOf(study);
  const edited = new Set(edits.flatMap(({ node }) => rig.indexOf.get(node) ?? []));
  const { shot: after, problems } = tryEditShot(shot, edits);
  if (problems.length > 0) return [...edits];
  const trial = studyOf(after, settingsOf(study));
  const kept: KeyEdit[] = [...edits];
  figuresOf(study).forEach((_, figure) => {
    for (const limb of allLimbsOf(study, figure)) {
      const given = courses.get(limb.end);
      if (given === undefined && !hangsOn(study, limb, edited)) continue;
      const course = given ?? worldOf(study, limb.end);
      const samples = movedSamples(course, worldOf(trial, limb.end));
      if (samples === null || (given === undefined && !isHeld(study, figure, limb, samples))) continue;
      kept.push(...limbEdits(study, trial, limb, samples, course));
    }
  });
  return kept;
}

/**
 * Edits of a limb's joints that bring its end where it is asked for, in a shot in which other edits move what the limb
 * hangs on.
 * @param study of the shot as it is: its keys are edited
 * @param trial of the shot with the other edits
 * @param course the end's world, for all samples
 */
export function limbEdits(
  study: Study,
  trial: Study,
  limb: LimbJoints,
  samples: Samples,
  course: EndCourse,
): KeyEdit[] {
  const { lo, hi } = samples;
  const turns = limbTo(study, trial, limb, samples, {
    position: course.position.subarray(3 * lo, 3 * hi + 3),
    orientation: course.orientation.subarray(4 * lo, 4 * hi + 4),
  });
  const laid = (laying: TurnLaying) => [
    ...turnedNode(study, limb.root, samples, turns.root, laying),
    ...turnedNode(study, limb.middle, samples, turns.middle, laying),
    ...turnedNode(study, limb.end, samples, turns.end, laying),
  ];
  for (const loose of closeness) {
    const edits = laid({ newFrom, loose, most: mostAdded });
    if (staysSparse(study, edits)) return edits;
  }
  return laid({ newFrom });
}

/** Whether no curve that has keys gets more of them than a correction brings. */
function staysSparse(study: Study, edits: readonly KeyEdit[]): boolean {
  const added = new Map<string, number>();
  for (const { kind, node, channel, frame } of edits) {
    const name = curveName(node, channel);
    const curve = curveOf(study, name);
    if (kind !== "set" || curve === null || curve.frames.includes(frame)) continue;
    const count = (added.get(name) ?? 0) + 1;
    if (count > mostAdded) return false;
    added.set(name, count);
  }
  return true;
}

function hangsOn(study: Study, limb: PosedLimb, edited: ReadonlySet<number>): boolean {
  const rig = rigOf(study);
  let hangs = false;
  for (const node of edited) {
    if (isAbove(rig, limb.root, node) && isAbove(rig, node, limb.end)) return false;
    hangs ||= node !== limb.root && isAbove(rig, node, limb.root);
  }
  return hangs;
}

/** Samples over which two courses differ, one more on each side; null where they are alike. */
function movedSamples(a: EndCourse, b: EndCourse): Samples | null {
  const count = a.position.length / 3;
  let first = -1;
  let last = -1;
  for (let i = 0; i < count; i++) {
    const k = 3 * i;
    const apart = Math.hypot(
      a.position[k] - b.position[k],
      a.position[k + 1] - b.position[k + 1],
      a.position[k + 2] - b.position[k + 2],
    );
    if (apart < sameMetres && angleBetween(a.orientation, 4 * i, b.orientation, 4 * i) < sameAngle) continue;
    if (first < 0) first = i;
    last = i;
  }
  return first < 0 ? null : { lo: Math.max(0, first - 1), hi: Math.min(count - 1, last + 1) };
}

/** Whether a limb's end stands on something, holds something, or stays where it is, between samples. */
function isHeld(study: Study, figure: number, limb: PosedLimb, { lo, hi }: Samples): boolean {
  const rig = rigOf(study);
  const meets = ({ from, to }: Span) => from <= hi && to >= lo;
  return (
    contactsOf(study, figure).some((contact) => isAbove(rig, limb.end, contact.node) && meets(contact)) ||
    staysOf(study, figure).some((stay) => stay.node === limb.end && meets(stay)) ||
    gripsOf(study).some((grip) => grip.hand === limb.end && meets(grip))
  );
}
