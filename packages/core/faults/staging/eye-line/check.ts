import { inDegrees, radiansPerDegree } from "../../../base/constants.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { headerOf } from "../../../document/inputs.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { lensOf } from "../../../staging/camera.ts";
import { isInPicture, screenOf, seenWidth } from "../../../staging/screen.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { offTarget } from "../shared/off-target.ts";

/** With numbers in working units. */
export interface EyeLineFinding extends Finding {
  /** Rig index of what it is meant to look at. */
  readonly target: number;
  readonly numbers: { readonly off: number };
}

const settings = {
  off: {
    default: 8,
    unit: "deg",
    what: "how far the face may point past what it looks at",
    source:
      "2.6°, half of the cone of a direct look (Horstmann & Linke 2021, abstract), and 5°, the error of others by the head (triadic study, abstract)",
    min: 0,
    max: 180,
  },
  frames: {
    default: 8,
    unit: "frames",
    what: "how long it may look past it",
    source: "common practice: a third of a second, the time of a glance",
    min: 1,
  },
  settle: {
    default: 10,
    unit: "frames",
    what: "time to turn to it, from the first frame of the gaze",
    source:
      "a head turns by 30° in a tenth of a second at its fastest (Grossman and others 1988, abstract: 780°/s); usual turns take four times as long (common practice)",
    min: 0,
  },
} as const;

/** A face that looks past what it is meant to see. */
export const eyeLine = defineCheck({
  name: "eye-line",
  title: "Eye line",
  family: "staging",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  what: "A figure is said to look at something, and its face points past it.",
  why: "Viewers follow eye lines to a degree or two; one that misses reads as looking at something else, or at nothing.",
  computes:
    "The face points where the body faces in the rest pose, turned with the head. The angle counts between it and the way from the head to the target of a declared gaze. Of the gaze's first ten frames those are left out in which the head is still to come nearer to the target. A pose that step keys hold cannot follow a target. A frame of one counts if all frames of its pose within eight of it are past the target. The number is the mean angle of a stretch.",
  fix: "Turn the head to the target, the neck with it.",
  notAFault: [
    "a head that is out of the picture, where the shot has a camera",
    "frames in which no gaze is declared: thinking",
    "the frames in which the head turns to its target",
    "a pose in step keys that its target passes within a third of a second",
  ],
  limits: [
    "Eyes are not looked at: a glance from the corner of the eye is told of; leave it out of the declared gaze.",
    "The face is inferred from the rest pose: how the legs or the shoulders stand, or, without them, where the head is ahead of the body. Where it stands upright on a body without limbs, nothing tells.",
  ],
  sources: [
    "Horstmann & Linke 2021 (abstract): the cone in which one feels looked at is 5.2° wide",
    "Where a third person looks, told by the head: mean error near 5° (a triadic study, abstract)",
  ],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const found: EyeLineFinding[] = [];
    const figure = figuresOf(study)[index];
    const head = figure.parts.get("head")?.[0];
    const lens = lensOf(study);
    if (head === undefined) return found;
    const grid = gridOf(study);
    for (const gaze of headerOf(study).gazes ?? []) {
      const target = rigOf(study).indexOf.get(gaze.at);
      if (gaze.figure !== figure.id || target === undefined || target === head) continue;
      const [first, last] = gaze.frames.map((frame) => sampleAt(grid, frame));
      const turned = offTarget(study, index, head, target);
      if (turned === null) continue;
      const off = nearestOfPoses(turned, heldOf(study, head), [first, last], Math.round(values.frames));
      const seen = screenOf(study, head);
      const isSeen = (i: number) =>
        lens === null || seen === null || isInPicture(lens, i, seen, seenWidth * i, 0);
      const isOff = (i: number) => off[i] > values.off && isSeen(i);
      for (
        let from = turnedBy(off, first, Math.min(last, first + Math.round(values.settle)));
        from <= last;
        from++
      ) {
        let to = from;
        while (to <= last && isOff(to)) to++;
        if (to - from > values.frames)
          found.push(findingOf(study, index, [head, target], turned, [from, to - 1], values.off));
        from = to;
      }
    }
    return found;
  },
  word(finding, words) {
    return {
      message: `${words.part} looks ${words.angle(finding.numbers.off)} past ${words.name(finding.target)} at ${words.counted(finding.from, finding.to)}`,
      suggestion: `turn it by ${words.angle(finding.numbers.off)} to ${words.name(finding.target)}`,
    };
  },
});

/**
 * How far a head is off its target where step keys hold it: a pose shows where the head is turned some time within it, so
 * the nearest frame of the pose counts that is at most a glance away. Elsewhere as it is.
 * @param held 1 where a sample repeats the pose before it
 * @param span first and last sample of the gaze
 */
function nearestOfPoses(
  off: Float64Array,
  held: Uint8Array,
  [first, last]: readonly [number, number],
  glance: number,
): Float64Array {
  const nearest = floats(off.length);
  nearest.set(off);
  for (let from = first; from <= last; from++) {
    let to = from;
    while (to < last && held[to + 1] === 1) to++;
    for (let i = from; i <= to; i++) {
      for (let k = Math.max(from, i - glance); k <= Math.min(to, i + glance); k++) {
        if (off[k] < nearest[i]) nearest[i] = off[k];
      }
    }
    from = to;
  }
  return nearest;
}

/** The least turn of a head that is seen as one, 1.9° (Wilson and others 2000). */
const leastTurn = 1.9 * radiansPerDegree;

/**
 * The sample from which a head that has until `end` to turn to its target comes no nearer: there it is as near as it gets,
 * but for what nobody sees. A head that never turns has none left out.
 */
function turnedBy(off: Float64Array, first: number, end: number): number {
  let nearest = end;
  for (let i = end; i >= first; i--) if (off[i] < off[nearest]) nearest = i;
  let from = nearest;
  while (from > first && off[from - 1] <= off[nearest] + leastTurn) from--;
  return from;
}

/** Reach from the neck to the face, body heights: half of a head. */
const faceReach = 0.065;

function findingOf(
  study: Study,
  figure: number,
  [head, target]: readonly [number, number],
  series: Float64Array,
  [from, to]: readonly [number, number],
  most: number,
): EyeLineFinding {
  let off = 0;
  for (let i = from; i <= to; i++) off += series[i] / (to - from + 1);
  const neck = figuresOf(study)[figure].parts.get("neck") ?? [];
  return {
    node: head,
    figure,
    from,
    to,
    measured: { quantity: "angle between face and target", value: inDegrees(off), unit: "deg" },
    expected: { max: inDegrees(most), unit: "deg", source: settings.off.source },
    excess: off / Math.max(most, 1e-6),
    size: off * faceReach * statureOf(study, figure),
    target,
    numbers: { off },
    fault: { kind: "keys", keys: keysOfNodes(study, [head, ...neck], from, to) },
  };
}
