import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { worldOf } from "../../../rig/pose.ts";
import { chainOf, isAbove, rigOf } from "../../../rig/rig.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { causeOr } from "../../weight/shared/cause-or.ts";
import { type Passage, passagesOf } from "./passages.ts";
import type { Piece } from "./pieces.ts";

/** With numbers in working units. */
export interface ThroughPropFinding extends Finding {
  readonly passage: Passage;
  /** What has to move: of the two the one that comes to the other. */
  readonly mover: Piece;
  /** 1 where the passage's way out is that of the mover, −1 where it is that of the other one. */
  readonly sign: 1 | -1;
  readonly numbers: {
    readonly depth: number;
    readonly deepest: number;
    /** Node of what it goes through (rig index); −1 for a surface. */
    readonly through: number;
  };
}

const settings = {
  depth: {
    default: 0.0125,
    unit: "H",
    what: "how deep one thing may be in another",
    source:
      "common practice: about 2 cm of a grown person, as for feet in the ground; flesh gives by a finger's breadth, and shapes are drawn no closer",
    min: 0,
  },
  frames: {
    default: 2,
    unit: "frames",
    what: "for how long it has to be in it",
    source: "common practice: what touches may be in each other between two frames",
    min: 1,
  },
} as const;

/** A thing goes through another one, a body or a surface; or a body through a thing. */
export const throughProp = defineCheck({
  name: "through-prop",
  title: "Through a prop",
  family: "props",
  scope: "shot",
  ceiling: "major",
  hangsOn: ["body"],
  what: "A thing goes through a surface, a body or another thing; or a part of a body goes through a thing, or an arm through a body.",
  why: "Things that are solid stop each other. What passes through has no substance, and neither has what it passes through.",
  computes:
    "Things are the shapes of their nodes; bodies are capsules on their bones, or the shapes of their nodes. The depth is the shortest way by which two of them come apart. Between boxes it is along the normal of a face or across two edges. Of a capsule or a ball it is the radius less the distance from its middle. An arm in a body, both of flesh, counts by the arm's middle. Hips and thighs count with half of their thickness, but for boxes: what they sit on and what leans on them presses them flat. So do feet without shapes. Forefeet, and the ends of other legs, are as thick as they stand over the ground. A passage lasts as long as the depth is over the limit. All pieces of a thing, or of a body, are one. In a surface the depth is that of the lowest point. A wall, or a surface with edges, is gone through by what is on both sides of it and whose middle is within the edges.",
  fix: "Move the thing, or the wrist that holds it, by the named way out of the other one.",
  notAFault: [
    "a hand and its arm in what it holds, half a second before and after too",
    "two nodes of which the document says that they touch, as a thing that lies in a box",
    "what hangs on a joint of a body, against that joint and what is above it",
    "what is in another thing from the first frame on: it is worn, or lies in it",
    "two that both stand still, and what comes or goes where it is not to be seen",
    "feet and the ends of legs in the ground: `through-ground` judges them by how high they stand",
    "hair, ears, tails; the two arms against each other, and heads against hands",
  ],
  limits: [
    "Bodies are as thick as the capsules that are drawn for them, somewhat thinner than real ones: what goes through clothes is not told.",
    "How thick a body without shapes is, is a guess: where its bone is not inside by as much as its flesh is thick, the note is minor at most.",
    "A thing without a shape is not looked at.",
    "What is on the other side from one frame to the next is not told.",
    "Surfaces are looked at where they are declared: what is inferred of the ground is no closer than soles are known.",
    "Of several surfaces without edges that face up only the lowest counts.",
  ],
  sources: [
    "Common practice: contacts are looked through frame by frame for what goes through what",
    "Gottschalk, Lin, Manocha 1996: boxes are apart where one of 15 axes parts them (from memory)",
  ],
  since: "0.1.0",
  settings,
  find(study, _shot, values) {
    const found = passagesOf(study, values.depth, Math.round(values.frames)).map((passage) =>
      findingOf(study, passage),
    );
    return found.filter((one) => !found.some((other) => speaksFor(study, other, one)));
  },
  word(finding, words) {
    const { from, to, passage, numbers } = finding;
    const other = typeof passage.other === "string" ? passage.other : words.name(numbers.through);
    const depth = words.length(numbers.depth);
    return {
      message: `${words.part} goes ${depth} into ${other} at frame ${words.frame(numbers.deepest)}, ${words.counted(from, to)}`,
      suggestion: `move it ${depth} out of ${other}, ${wayIn(finding)}`,
    };
  },
});

/** A body that goes through what the thing in its hands goes through is told of by that thing, where it is deeper. */
function speaksFor(
  study: Study,
  other: ThroughPropFinding,
  { passage, numbers, from, to }: ThroughPropFinding,
): boolean {
  const thing = other.passage;
  const body = passage;
  if (
    thing.one.isFlesh ||
    typeof thing.other === "string" ||
    thing.other.isFlesh ||
    thing.depth < numbers.depth
  )
    return false;
  if (typeof body.other === "string" || body.one.owner !== thing.other.owner || !body.other.isFlesh)
    return false;
  const { figure } = body.other;
  return (
    other.from <= to &&
    other.to >= from &&
    gripsOf(study).some(
      (grip) => grip.figure === figure && isAbove(rigOf(study), thing.one.owner, grip.thing),
    )
  );
}

/** Which way a mover goes out, in a word. */
function wayIn({ passage: { ways, from, deepest }, sign }: ThroughPropFinding): string {
  const at = 3 * (deepest - from);
  const up = sign * ways[at + 1];
  return up > 0.7 ? "upwards" : up < -0.7 ? "downwards" : "sideways";
}

function findingOf(study: Study, passage: Passage): ThroughPropFinding {
  const { one, other, from, to, deepest, depth, limit } = passage;
  const solid = typeof other === "string" ? null : other;
  const isOne = solid === null || comes(study, passage, one) >= comes(study, passage, solid);
  const [mover, still] = isOne || solid === null ? [one, solid] : [solid, one];
  const sign = mover === one ? 1 : -1;
  const node = seenOn(mover);
  return {
    node,
    figure: Math.max(mover.figure, still?.figure ?? -1),
    from,
    to,
    ...(!isSure(mover, still, depth) && { ceiling: "minor" as const }),
    measured: { quantity: "depth", value: depth, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.depth.source },
    excess: depth / limit,
    size: depth,
    passage,
    mover,
    sign,
    numbers: { depth, deepest, through: still === null ? -1 : seenOn(still) },
    fault: causeOf(study, passage, mover, sign),
  };
}

/** Whether a passage is sure: two of flesh give way, and flesh without a shape is as thick as it is drawn. */
function isSure(mover: Piece, still: Piece | null, depth: number): boolean {
  const guessed = [mover, still].filter((piece) => piece?.isGuessed);
  if (mover.isFlesh && still?.isFlesh) return false;
  // Its bone is inside by as much as its flesh is thick: what is pressed flat is not thinner for that.
  return guessed.every((piece) => piece === null || depth >= piece.radius + piece.whole);
}

/** The node at which a piece is told: an object as a whole, or the joint that starts a bone. */
function seenOn({ isFlesh, figure, owner, node }: Piece): number {
  return isFlesh || figure >= 0 ? node : owner;
}

/** How far a piece moves while it goes in, metres; an object that a hand carries comes to what stands. */
function comes(study: Study, { from, deepest }: Passage, { far }: Piece): number {
  const { position } = worldOf(study, far);
  return distanceBetween(position, Math.max(0, from - 1), position, deepest);
}

/** The depth again with another path of the mover, by the ways out as they are; its turns stay. */
function causeOf(study: Study, passage: Passage, { node, far }: Piece, sign: 1 | -1): Fault {
  const { from, to, depths, ways } = passage;
  const subject = far;
  const before = worldOf(study, subject).position.slice(3 * from, 3 * to + 3);
  const fault: Fault = {
    kind: "position",
    subject,
    lo: from,
    hi: to,
    from,
    to,
    strength(series) {
      let most = 0;
      for (let i = 0; i < depths.length; i++) {
        let out = 0;
        for (let k = 3 * i; k < 3 * i + 3; k++) out += sign * ways[k] * (series[k] - before[k]);
        most = Math.max(most, depths[i] - out);
      }
      return most;
    },
    sees: ["through", sign, depths, ways, before],
  };
  return causeOr(study, fault, chainOf(rigOf(study), node).slice().reverse(), from, to);
}
