import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { swingsIn } from "../../../motion/parts/swing.ts";
import { rangeOf, turnBetween, twistAbout } from "../../../motion/parts/twist.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { movesBetweenCuts } from "../../../motion/path/moves.ts";
import { worldAngle } from "../../../motion/path/relative.ts";
import { turnsOfOrientations } from "../../../motion/path/rotation.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface BlockMoveFinding extends Finding {
  readonly numbers: {
    readonly turn: number;
    readonly bend: number;
    readonly offset: number;
    readonly amount: number;
  };
}

const settings = {
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of the chest over a move",
    source: "common practice: a smaller turn is a shift of weight, in which a torso may well go as one piece",
    min: 0,
  },
  lead: {
    default: 2,
    unit: "frames",
    what: "least time by which one of the three is before another",
    source:
      "common practice: parts that are meant to overlap are offset by two frames or more; one frame is not read as a lead",
    min: 0,
  },
  rest: {
    default: 12,
    unit: "deg/s",
    what: "angular speed under which the chest counts as at rest",
    source: "common practice: half a degree a frame, at which a chest drifts in a moving hold",
    min: 0,
  },
} as const;

/** Share of a turn by which a body that turns quickly twists on the way: 9° of a turn by 60° (our choice). */
const twisted = 0.15;

/** Pelvis, chest and head turn as one piece. */
export const blockMove = defineCheck({
  name: "block-move",
  title: "Moves as a block",
  family: "parts",
  scope: "figure",
  ceiling: "major",
  what: "Pelvis, chest and head turn as one piece.",
  why: "A spine bends: one part leads and the others follow. Turning all at once reads as a statue on a turntable.",
  computes:
    "Over each turn of the chest by more than 15° in the world: how far pelvis, chest and head turn against each other about the axis of that turn. Divided by the chest's speed in the middle half of the turn, that is the time by which one of them is before another. A nod or a sway during the turn is no lead. Two frames are asked for. In a very quick turn 15 % of it are enough, which is less.",
  fix: "Let the head or the pelvis lead by two or three frames and the others follow, each one later.",
  notAFault: [
    "small turns",
    "figures without a chest or a head",
    "birds: the bones of their trunk are grown together",
    "a cut by step keys from one held pose to the next",
  ],
  limits: ["A turn of the whole body in the air is a turn of one piece by nature; see flights."],
  sources: ["Common practice: a turn is led by one part and followed by the others along the spine"],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const { parts } = figure;
    const root = carrierOf(figure);
    const chest = parts.get("chest")?.at(-1) ?? parts.get("spine")?.at(-1);
    const head = parts.get("head")?.[0];
    if (chest === undefined || head === undefined || chest === root) {
      excused(-1, 0, gridOf(study).count - 1, "no chest and head are known above the hips");
      return [];
    }
    if (figure.kind === "winged") {
      excused(chest, 0, gridOf(study).count - 1, "a bird's trunk is one piece by nature");
      return [];
    }
    const { rate } = gridOf(study);
    const steps = turnsOfOrientations(worldOf(study, chest).orientation);
    const found: BlockMoveFinding[] = [];
    const angle = (a: number, b: number) => worldAngle(study, chest, a, b);
    const pause = Math.round((2 * rate) / referenceRate);
    const moves = movesBetweenCuts(steps, null, cutsOf(study, head), values.rest / rate, pause, rate);
    // A turn that follows on another one is judged by itself: what twists in the one is no lead in the other.
    const swings = moves.flatMap((move) => {
      const within = swingsIn(angle, move.from, move.to, values.turn);
      return within.length === 1 ? [{ ...within[0], to: move.to }] : within;
    });
    for (const { from, to } of swings) {
      const turned = turnBetween(study, { node: chest, against: -1 }, from, to);
      if (turned === null) continue;
      const twist = (node: number, against: number) =>
        twistAbout(study, { node, against }, turned.axis, from, from, to);
      const course = twist(chest, -1);
      const turn = rangeOf(course);
      if (turn < values.turn) continue;
      const bend = Math.max(
        rangeOf(twist(chest, root)),
        rangeOf(twist(head, chest)),
        rangeOf(twist(head, root)),
      );
      const speed = speedOf(course);
      const lead = bend / speed;
      const least = Math.min(values.lead, (twisted * turn) / speed);
      if (lead >= least) continue;
      found.push({
        node: chest,
        figure: index,
        from,
        to,
        measured: { quantity: "frames by which one part is before another", value: lead, unit: "frames" },
        expected: { min: least, unit: "frames", source: settings.lead.source },
        excess: 1 + (turn / values.turn - 1) / 2 + (1 - lead / Math.max(least, 1e-6)) / 2,
        size: turn * farReachOf(study, chest) * 0.25,
        numbers: {
          turn,
          bend,
          offset: Math.max(1, Math.round(Math.min(3, (to - from) / 5))),
          amount: twisted * turn,
        },
        fault: { kind: "keys", keys: keysOfNodes(study, [root, chest, head], from, to) },
      });
    }
    return found;
  },
  word(finding, words) {
    const { turn, bend, offset, amount } = finding.numbers;
    return {
      message: `hips, chest and head turn ${words.angle(turn)} as one piece in ${words.counted(finding.from, finding.to)}: only ${words.angle(bend)} of bending`,
      suggestion: `let the hips start ${words.frames(offset)} sooner and the head ${words.frames(offset)} later, so that the body twists by about ${words.angle(amount)} on the way`,
    };
  },
});

/** Radians a sample in the middle half of a turn: from a quarter to three quarters of what it covers. */
function speedOf(course: Float64Array): number {
  let low = 0;
  let high = 0;
  for (let i = 0; i < course.length; i++) {
    if (course[i] < course[low]) low = i;
    if (course[i] > course[high]) high = i;
  }
  const [first, last] = [Math.min(low, high), Math.max(low, high)];
  const whole = Math.abs(course[last] - course[first]);
  const done = (i: number) => Math.abs(course[i] - course[first]) / whole;
  let from = first;
  while (from < last && done(from + 1) <= 0.25) from++;
  let to = from + 1;
  while (to < last && done(to) < 0.75) to++;
  return (whole * (done(to) - done(from))) / (to - from);
}
