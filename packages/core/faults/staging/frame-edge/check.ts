import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { type Lens, lensOf } from "../../../staging/camera.ts";
import { project, screenOf, seenWidth } from "../../../staging/screen.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { armsOf, hangs } from "../shared/arms.ts";
import { cameraAt, cameraKeys } from "../shared/camera-keys.ts";
import { beyondHead } from "../shared/face.ts";

/** With numbers in working units. */
export interface FrameEdgeFinding extends Finding {
  /** Rig index of the joint at which the part is brought in: the shoulder of a hand; −1 for a head. */
  readonly joint: number;
  /** Which edge: to the right, upwards, of the picture's middle. */
  readonly towards: readonly [number, number];
  readonly numbers: { readonly beyond: number };
}

const settings = {
  safe: {
    default: 0.035,
    unit: "share",
    what: "margin at each edge, as a share of the picture's width or height",
    source:
      "safe action area of 93 %: SMPTE ST 2046-1 as told in public code and documents (the standard itself was not seen); EBU R 95 likewise",
    min: 0,
    max: 0.4,
  },
  frames: {
    default: 12,
    unit: "frames",
    what: "how long a part may be there",
    source: "common practice: half a second; what crosses the edge for less is on its way",
    min: 1,
  },
  close: {
    default: 1.5,
    unit: "ratio",
    what: "how many picture heights a figure is tall, beyond which its head may be cut",
    source: "common practice: in close shots the top of the head is cut on purpose",
    min: 0,
  },
} as const;

/** Radius of a head and of a hand, body heights: half of their lengths (Drillis and Contini 1966; from memory). */
const headRadius = lengthShare.head / 2;
const handRadius = lengthShare.hand / 2;

/** A head or a hand that stays on the edge of the picture. */
export const frameEdge = defineCheck({
  name: "frame-edge",
  title: "Frame edge",
  family: "staging",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  what: "A head or a hand stays on the edge of the picture, cut or beyond the safe area.",
  why: "A part that is cut for no reason draws the eye to the edge, and screens that crop lose it.",
  computes:
    "A head is a ball of half its length about the middle between its joint and its end, a hand one about its wrist. A head without an end goes on by its length along the bone that leads to it. Told is how far it reaches over the nearest edge of the safe area, in picture heights. The number is the mean of a stretch in which some of it is in the picture. Where it goes on by its own radius meanwhile, frames at the ends are left out in which it is on its way. At their pace it would pass within the frames of the setting.",
  fix: "Bring the hand in, or move the camera or the figure.",
  notAFault: [
    "a shot without a camera",
    "a part that enters or leaves: it is inside on one side of the stretch and outside on the other, or goes on by its own radius",
    "hands that hang",
    "heads in close shots",
  ],
  limits: ["It looks at heads and hands; where the edge cuts a leg is not judged."],
  sources: ["Safe areas of 16 : 9 pictures: 93 % for action, 90 % for titles"],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const lens = lensOf(study);
    if (lens === null) return [];
    const found: FrameEdgeFinding[] = [];
    for (const part of partsOf(study, index)) {
      const beyond = beyondOf(study, lens, part, values);
      if (beyond === null) continue;
      for (const stretch of stretches(beyond)) {
        const staying = [stretch, settledIn(beyond, stretch, values.frames)].find(
          ([from, to]) => to - from + 1 > values.frames && !isCrossing(beyond, stretch, [from, to]),
        );
        if (staying !== undefined) found.push(findingOf(study, index, part, beyond, staying, values.safe));
      }
    }
    return found;
  },
  word(finding, words) {
    const { beyond } = finding.numbers;
    return {
      message: `${words.part} stays on the edge of the picture at ${words.counted(finding.from, finding.to)}: ${words.share(beyond)} of the picture's height over the safe area`,
      suggestion:
        finding.joint < 0
          ? "move the camera or the figure so that it stands free"
          : "bring the hand in, or leave room for it",
    };
  },
});

interface Part {
  readonly node: number;
  /** Whose place counts with that of the node, where the ball lies between the two. */
  readonly end: number;
  readonly radius: number;
  readonly joint: number;
  readonly isHead: boolean;
  /** Whether it is not judged at a sample. */
  isFree(sample: number): boolean;
}

function partsOf(study: Study, index: number): Part[] {
  const { parts } = figuresOf(study)[index];
  const stature = statureOf(study, index);
  const heads = (parts.get("head" as BodyPart) ?? []).slice(0, 1);
  return [
    ...heads.map((node) => ({
      node,
      end: endOf(study, index, node),
      radius: headRadius * stature,
      joint: -1,
      isHead: true,
      isFree: () => false,
    })),
    ...armsOf(study, index).map((arm) => ({
      node: arm.end,
      end: arm.end,
      radius: handRadius * stature,
      joint: arm.root,
      isHead: false,
      isFree: (sample: number) => hangs(study, arm, sample),
    })),
  ];
}

/** The end of a head's chain: a node below it that counts with it; itself where there is none. */
function endOf(study: Study, index: number, head: number): number {
  const { nodes, partOf } = figuresOf(study)[index];
  return nodes.findLast((node) => partOf.get(node) === "head") ?? head;
}

interface Beyond {
  /** Picture heights by which the ball reaches over the safe area's nearest edge; NaN where it is out of the picture or free. */
  readonly over: Float64Array;
  /** Picture heights from the picture's edge inwards to the ball's middle, and the ball's radius. */
  readonly inside: Float64Array;
  readonly radius: Float64Array;
  /** Per sample the edge that is nearest: 0 to 3 for right, left, top, bottom. */
  readonly edge: Uint8Array;
}

function beyondOf(
  study: Study,
  lens: Lens,
  { node, end, radius, isHead, isFree }: Part,
  { safe, close }: { readonly safe: number; readonly close: number },
): Beyond | null {
  const a = screenOf(study, node);
  const b = isHead && end === node ? endSeen(study, lens, node, 2 * radius) : screenOf(study, end);
  if (a === null || b === null) return null;
  const { count } = gridOf(study);
  const [over, inside, radii] = [
    floats(count).fill(Number.NaN),
    floats(count).fill(Number.NaN),
    floats(count),
  ];
  const edge = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const k = seenWidth * i;
    const [x, y] = [(a[k] + b[k]) / 2, (a[k + 1] + b[k + 1]) / 2];
    if (Number.isNaN(x + y)) continue;
    const r = radius * a[k + 3];
    const aspect = lens.aspect[i];
    const ways = [aspect / 2 - x, aspect / 2 + x, 0.5 - y, 0.5 + y];
    const overs = ways.map((way, side) => safe * (side < 2 ? aspect : 1) + r - way);
    const side = overs.indexOf(Math.max(...overs));
    [edge[i], inside[i], radii[i]] = [side, ways[side], r];
    // Wholly out of the picture, or of a figure that is cut on purpose.
    const isOut = Math.min(...ways) <= -r;
    const isClose = isHead && r / headRadius > close;
    if (overs[side] > 0 && !isOut && !isClose && !isFree(i)) over[i] = overs[side];
  }
  return { over, inside, radius: radii, edge };
}

/** What is seen of the end of a head that has no node there. */
function endSeen(study: Study, lens: Lens, head: number, length: number): Float64Array | null {
  const beyond = beyondHead(study, head);
  if (beyond === null) return screenOf(study, head);
  const { position } = worldOf(study, head);
  const path = floats(position.length);
  for (let i = 0; i < path.length / 3; i++) {
    const way = beyond.at(i);
    for (let k = 0; k < 3; k++) path[3 * i + k] = position[3 * i + k] + length * way[k];
  }
  const seen = floats((seenWidth * path.length) / 3);
  project(lens, path, seen);
  return seen;
}

/** First and last sample. */
type Stretch = readonly [number, number];

function* stretches({ over, edge }: Beyond): Generator<Stretch> {
  for (let from = 0; from < over.length; from++) {
    if (Number.isNaN(over[from])) continue;
    let to = from;
    while (to + 1 < over.length && !Number.isNaN(over[to + 1]) && edge[to + 1] === edge[from]) to++;
    yield [from, to];
    from = to;
  }
}

/**
 * A stretch without the frames at its ends in which the part is on its way, to the edge or off it: at their pace it would pass
 * by its own radius while it may be there at all.
 */
function settledIn({ inside, radius }: Beyond, [first, last]: Stretch, frames: number): Stretch {
  const isOnWay = (i: number) => {
    const [before, after] = [Math.max(first, i - 1), Math.min(last, i + 1)];
    return Math.abs(inside[after] - inside[before]) * frames > radius[i] * (after - before);
  };
  let [from, to] = [first, last];
  while (from < to && isOnWay(from)) from++;
  while (to > from && isOnWay(to)) to--;
  return [from, to];
}

/** Whether a part enters or leaves in a stretch: of all its frames, or of those in which it has settled. */
function isCrossing({ inside, radius }: Beyond, [first, last]: Stretch, [from, to]: Stretch): boolean {
  if (Math.abs(inside[to] - inside[from]) > radius[from]) return true;
  const isIn = (i: number) => inside[i] > 0;
  return first > 0 && last + 1 < inside.length && isIn(first - 1) !== isIn(last + 1);
}

const towards = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;

function findingOf(
  study: Study,
  figure: number,
  { node, radius, joint }: Part,
  { over, radius: radii, edge }: Beyond,
  [from, to]: Stretch,
  safe: number,
): FrameEdgeFinding {
  let beyond = 0;
  for (let i = from; i <= to; i++) beyond += over[i] / (to - from + 1);
  const { root, parts } = figuresOf(study)[figure];
  const nodes =
    joint < 0 ? [node, ...(parts.get("root") ?? [root])] : [joint, ...armNodes(study, figure, node)];
  const camera = cameraAt(study, from);
  // A camera that moves frames what it sees: its keys come before those of a body that goes where it has to.
  const framing = camera < 0 ? [] : cameraKeys(study, camera, from, to);
  return {
    node,
    figure,
    from,
    to,
    measured: { quantity: "share of the picture's height over the safe area", value: beyond, unit: "share" },
    expected: { max: 0, unit: "share", source: settings.safe.source },
    excess: 1 + beyond / Math.max(safe, 0.001),
    // Picture heights in metres at the part.
    size: (beyond * radius) / radii[from],
    joint,
    towards: towards[edge[from]],
    numbers: { beyond },
    fault: { kind: "keys", keys: [...framing, ...keysOfNodes(study, nodes, from, to)] },
  };
}

function armNodes(study: Study, figure: number, hand: number): number[] {
  const arm = armsOf(study, figure).find(({ end }) => end === hand);
  return arm === undefined ? [hand] : [arm.middle, arm.end];
}
