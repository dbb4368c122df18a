import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { headerOf } from "../../../document/inputs.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { lensOf } from "../../../staging/camera.ts";
import { isInPicture, screenOf, seenWidth } from "../../../staging/screen.ts";
import { visibilityOf } from "../../../staging/visible.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { offTarget } from "../shared/off-target.ts";

/** With numbers in working units. */
export interface EarlyLookFinding extends Finding {
  /** Rig index of what it reacts to. */
  readonly target: number;
  /** Samples at which the head starts, and at which its turn is over. */
  readonly numbers: { readonly early: number; readonly heard: boolean };
}

const settings = {
  latency: {
    default: 0.1,
    unit: "s",
    what: "least time from what is seen or heard to the first turn of the head",
    source:
      "the fastest eye movements to a target, near 100 ms (Fischer & Ramsperger 1984); usual ones take 180 to 200 ms, simple reactions to a sound 140 to 160 ms",
    min: 0,
  },
  before: {
    default: 0.75,
    unit: "s",
    what: "how long before it a turn may begin and still be taken for an answer to it",
    source: "common practice: an earlier look has a reason of its own",
    min: 0,
  },
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of the head towards it",
    source: "common practice: what is smaller is a drift of the head",
    min: 0,
    max: 180,
  },
} as const;

/** A head that turns to something before that can have been seen or heard. */
export const earlyLook = defineCheck({
  name: "early-look",
  title: "Early look",
  family: "staging",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  ripening: "no bench has a row for it yet",
  what: "A head starts to turn to something before that makes a sound, appears or moves.",
  why: "Who answers what has not happened yet knows the script: the surprise is gone.",
  computes:
    "A declared gaze has a first moment at which its target can be noticed. That is a sound that comes from it (343 m/s to the head), its first visible frame, or its first move after a second of rest. The head starts where a twentieth of its turn towards the target is done. The number is how many frames before a tenth of a second after that moment it starts.",
  fix: "Start the turn of the head later, neck and eyes with it.",
  notAFault: [
    "a shot without a camera, and a head that is out of the picture",
    "a target that never makes a sound, appears or moves: it is looked at for its own sake",
    "a head that turned to it long before",
  ],
  limits: ["Only what the document says of the target counts: a light or a smell is not known."],
  sources: [
    "Fischer & Ramsperger 1984: express saccades near 100 ms",
    "Simple reactions: 140 to 160 ms to a sound, 180 to 200 ms to a sight (a review by Kosinski)",
  ],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const head = figure.parts.get("head")?.[0];
    const lens = lensOf(study);
    const found: EarlyLookFinding[] = [];
    if (head === undefined || lens === null) return found;
    const { rate } = gridOf(study);
    for (const gaze of headerOf(study).gazes ?? []) {
      const target = rigOf(study).indexOf.get(gaze.at);
      if (gaze.figure !== figure.id || target === undefined || isAbove(rigOf(study), head, target)) continue;
      const event = noticeable(study, head, target);
      const seen = screenOf(study, head);
      const off = offTarget(study, index, head, target);
      if (event === null || seen === null || off === null) continue;
      const start = startOf(off, event.at, rate, values);
      if (start === null) continue;
      const early = event.at + values.latency * rate - start.from;
      if (early < 1 || !isInPicture(lens, start.from, seen, seenWidth * start.from, 0)) continue;
      found.push(findingOf(study, index, [head, target], start, early, event.isHeard));
    }
    return found;
  },
  word(finding, words) {
    const { early, heard } = finding.numbers;
    const count = Math.round(early);
    return {
      message: `${words.part} starts to turn to ${words.name(finding.target)} at ${words.frame(finding.from)}, ${words.frames(count)} before that can have been ${heard ? "heard" : "seen"}`,
      suggestion: `start the turn ${words.frames(count)} later`,
    };
  },
});

/** Metres a second of sound in air of 20 °C. */
const soundSpeed = 343;

/** The first moment at which a target can be noticed, as a sample with its fraction; null where it never stands out. */
function noticeable(study: Study, head: number, target: number): { at: number; isHeard: boolean } | null {
  const grid = gridOf(study);
  const rig = rigOf(study);
  const moments: { at: number; isHeard: boolean }[] = [];
  for (const { node, frame } of headerOf(study).sounds ?? []) {
    const from = node === undefined ? undefined : rig.indexOf.get(node);
    if (from === undefined || !isAbove(rig, target, from)) continue;
    const at = (frame - grid.frames[0]) / grid.step;
    const sample = Math.max(0, Math.min(grid.count - 1, Math.round(at)));
    const way = distanceBetween(worldOf(study, head).position, sample, worldOf(study, from).position, sample);
    moments.push({ at: at + (way / soundSpeed) * grid.rate, isHeard: true });
  }
  const visible = visibilityOf(study, target);
  if (visible !== null && visible[0] === 0) {
    const at = visible.indexOf(1);
    if (at > 0) moments.push({ at, isHeard: false });
  }
  const moved = firstMove(study, target);
  if (moved !== null) moments.push({ at: moved, isHeard: false });
  return moments.length === 0 ? null : moments.reduce((a, b) => (b.at < a.at ? b : a));
}

/** Body heights that a thing has to go to be seen to move: half a hand. */
const leastMove = 0.05;

/** The last sample at which a target still rests that has rested for a second from the start; null where it moves before, or never. */
function firstMove(study: Study, target: number): number | null {
  const { count, rate } = gridOf(study);
  const { position } = worldOf(study, target);
  const least = leastMove * statureOf(study, 0);
  for (let i = 1; i < count; i++) {
    if (distanceBetween(position, i, position, 0) < least) continue;
    let from = i;
    while (from > 0 && distanceBetween(position, from - 1, position, 0) > 0.02 * least) from--;
    return from >= rate ? from : null;
  }
  return null;
}

/** Share of a turn that is done where it is seen to start. */
const started = 0.05;

/** The turn towards a target around a moment: where it starts and is over; null where there is none that could answer it. */
function startOf(
  off: Float64Array,
  at: number,
  rate: number,
  { before, latency, turn }: { readonly before: number; readonly latency: number; readonly turn: number },
): { from: number; to: number } | null {
  const last = off.length - 1;
  const first = Math.max(0, Math.floor(at - before * rate));
  const until = Math.min(last, Math.floor(at + latency * rate));
  if (first >= until) return null;
  let peak = first;
  for (let i = first; i <= until; i++) if (off[i] >= off[peak]) peak = i;
  let end = peak;
  while (end < last && off[end + 1] < off[end]) end++;
  const fall = off[peak] - off[end];
  if (fall < turn) return null;
  let from = peak;
  while (off[peak] - off[from] < started * fall) from++;
  // A turn that goes on from before the stretch began earlier still.
  return peak === first && first > 0 && off[first - 1] > off[first] ? null : { from, to: end };
}

function findingOf(
  study: Study,
  figure: number,
  [head, target]: readonly [number, number],
  { from, to }: { readonly from: number; readonly to: number },
  early: number,
  heard: boolean,
): EarlyLookFinding {
  const neck = figuresOf(study)[figure].parts.get("neck") ?? [];
  return {
    node: head,
    figure,
    from,
    to,
    measured: { quantity: "frames before it can have been noticed", value: early, unit: "frames" },
    expected: { max: 0, unit: "frames", source: settings.latency.source },
    excess: 1 + early / Math.max(1, 0.1 * gridOf(study).rate),
    // Half of a head's height.
    size: 0.065 * statureOf(study, figure),
    target,
    numbers: { early, heard },
    fault: { kind: "keys", keys: keysOfNodes(study, [head, ...neck], from, to) },
  };
}
