import { inRadians, referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { twistAbout } from "../../motion/parts/twist.ts";
import { turnPaceOf } from "../../motion/path/pace.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { localMotionOf } from "../../rig/local.ts";
import { gridOf } from "../../time/grid.ts";
import { passes, samplesOf } from "../shared/frames.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface HeadFirstTurn extends Held {
  /** Samples by which the head is ahead of the chest, and the chest of the hips; NaN where the hips stay. */
  readonly lead: number;
  readonly further: number;
  readonly turn: number;
  readonly chest: number;
  readonly hips: number;
}

/** Turns about the upright that are told: of the head, and of what follows it. */
const leastTurn = inRadians(30);
const leastFollow = inRadians(15);
/** How far the face is from the axis of the head, and the shoulders from that of the trunk, body heights (our choice). */
const faceReach = 0.06;
const shoulderReach = 0.13;
/** Share of its turn by which a part counts as on its way. */
const onItsWay = 0.25;
/** How far the head leads, frames at 24 per second. */
const leastLead = 1;
const mostLead = 8;

/** Turns that begin at the head. */
export const headFirstTurn = defineStrength<HeadFirstTurn>({
  name: "head-first-turn",
  title: "Turn led by the head",
  what: "A turn begins at the head, and the chest, then the hips, follow some frames later.",
  computes:
    "Over a turn of the head of 30° or more about the upright, each part is on its way where it has made a quarter of its own turn. The head is 1 to 8 frames (at 24 per second) ahead of a chest that turns by 15° or more the same way. The chest is not behind hips that do.",
  canFail: "The head hangs on the chest: without keys of its own it turns with it, on the same frame.",
  sources: [
    "Anastasopoulos, Ziavra, Hollands, Bronstein 2009 (abstract): in turns up to 180° the head starts at 0.6 s, the trunk at 0.7 s, the foot at 1.1 s",
    "At least 1 frame, at most 8: common practice, what can be seen, and a third of a second, after which the chest makes a turn of its own",
  ],
  hangsOn: ["body"],
  find(study, index) {
    const figure = figuresOf(study)[index];
    const head = figure.parts.get("head")?.[0];
    const chest = figure.parts.get("chest")?.at(-1) ?? figure.parts.get("spine")?.at(-1);
    const hips = carrierOf(figure);
    if (head === undefined || chest === undefined || chest === hips) return [];
    if (localMotionOf(study, head).turn.still && neckIsStill(study, figure.parts.get("neck") ?? []))
      return [];
    const { count, rate } = gridOf(study);
    const before = samplesOf(study, 6);
    const after = samplesOf(study, 12);
    const found: HeadFirstTurn[] = [];
    const { poses, moves } = turnPaceOf(study, head);
    for (const move of moves) {
      const [start, end] = [poses[move.from], poses[move.to]];
      const from = Math.max(0, start - before);
      const to = Math.min(count - 1, end + after);
      const turn = turnOver(study, head, start, end);
      if (Math.abs(turn) < leastTurn) continue;
      const way = Math.sign(turn);
      const times = [head, chest, hips].map((node) => onWay(study, node, from, to, way));
      const lead = times[1] - times[0];
      const frames = (lead * referenceRate) / rate;
      if (!(frames >= leastLead && frames <= mostLead)) continue;
      const further = times[2] - times[1];
      if (further < 0) continue;
      found.push({
        node: head,
        nodes: Number.isNaN(further) ? [head, chest] : [head, chest, hips],
        from: start,
        to: Math.min(to, Math.max(end, Math.ceil(Number.isNaN(further) ? times[1] : times[2]))),
        measured: { quantity: "lead of the head over the chest", value: lead, unit: "frames" },
        within: {
          min: (leastLead * rate) / referenceRate,
          max: (mostLead * rate) / referenceRate,
          unit: "frames",
          source: "Anastasopoulos, Ziavra, Hollands, Bronstein 2009 (abstract); common practice",
        },
        // What the face travels in the turn, or the shoulders, where all of the body turns.
        size: Math.abs(turn) * (Number.isNaN(further) ? faceReach : shoulderReach) * statureOf(study, index),
        lead,
        further,
        turn: Math.abs(turn),
        chest,
        hips,
      });
    }
    return found;
  },
  word({ from, to, lead, further, turn, chest, hips }, words) {
    const then =
      Number.isNaN(further) || further < 0.5
        ? ""
        : `, and the ${words.name(chest)} the ${words.name(hips)} by ${words.frames(further)}`;
    return `${words.part} leads the ${words.name(chest)} by ${words.frames(lead)}${then}, into a turn of ${words.angle(turn)}, ${words.span(from, to)}`;
  },
});

function neckIsStill(study: Study, neck: readonly number[]): boolean {
  return neck.every((node) => localMotionOf(study, node).turn.still);
}

const upright = [0, 1, 0] as const;

/** How far a node turns about the upright from one sample to another, radians, to the left positive. */
function turnOver(study: Study, node: number, from: number, to: number): number {
  const angles = twistAbout(study, { node, against: -1 }, upright, from, from, to);
  return angles[to - from];
}

/** When a node has made a quarter of its turn one way, as an index with a fraction; NaN where it hardly turns that way. */
function onWay(study: Study, node: number, from: number, to: number, way: number): number {
  const angles = twistAbout(study, { node, against: -1 }, upright, from, from, to);
  for (let i = 0; i < angles.length; i++) angles[i] *= way;
  const whole = angles[angles.length - 1];
  return whole < leastFollow ? Number.NaN : passes(angles, from, onItsWay * whole);
}
