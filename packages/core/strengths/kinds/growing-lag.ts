import { referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { boneTurns } from "../../motion/parts/bone.ts";
import { bestLag } from "../../motion/parts/lag.ts";
import { looseChainsOf } from "../../motion/parts/loose-chain.ts";
import { rangeOf } from "../../motion/parts/twist.ts";
import { carriedPath } from "../../motion/path/carried.ts";
import { isChainStepped } from "../../motion/path/held.ts";
import { restTurnOf } from "../../motion/path/moves.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { runsWhere, type Span } from "../../time/span.ts";
import { samplesOf } from "../shared/frames.ts";
import { strayOf } from "../shared/spread.ts";
import { along, carriedDirections, directionsOf, swingAxis } from "../shared/swing.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface GrowingLag extends Held {
  /** Samples by which each link is behind what leads. */
  readonly lags: readonly number[];
  /** Node that leads: the carrier, or the first link where the chain swings of itself. */
  readonly leader: number;
}

/** How far what leads swings at least, and the last link: a direction's way along the axis, about 8° and 15°. */
const leadSwing = 0.14;
const lastSwing = 0.26;
/** Each link is behind the one before by this at least, and all of them by no more, frames at 24 per second. */
const leastStep = 0.5;
const mostLag = 12;
/** Correlation from which on a link makes the same swing, only later. */
const sameCourse = 0.9;
/** Stretches that are told: pauses of up to 6 frames belong to them, and they last 18 at least (at 24 per second). */
const pause = 6;
const shortest = 18;

/** Tails and hair that drag, more from link to link. */
export const growingLag = defineStrength<GrowingLag>({
  name: "growing-lag",
  title: "Drag that grows",
  what: "A tail, hair or an ear swings link by link, each later than the one before.",
  computes:
    "A stretch in which the chain turns lasts 18 frames (at 24 per second) or more. The directions of its links are followed along the axis on which the last one swings most. Each lags behind what leads. That is the first link's direction as the carrier would take it, where it swings by 8°, else the first link. The lag of best correlation (0.9 or more) grows by half a frame or more from link to link and stays within 12 frames. The last link swings by 15° or more.",
  canFail: "Each link has a place of its own in time; keyed together they turn on the same frame.",
  sources: [
    "Drag that grows along a chain: common practice of overlapping action",
    "Hanging chains swing at 2.4048/2·√(g/L) over 2π: one of half a metre at 0.85 Hz, so that 12 frames are less than half of its swing",
  ],
  hangsOn: ["body"],
  find(study, figure) {
    const { children } = rigOf(study);
    const found: GrowingLag[] = [];
    for (const { joints, isKeyed, part } of looseChainsOf(study, figure)) {
      const bones = joints.filter((node) => children[node].length > 0);
      if (!isKeyed || part === "chain" || bones.length < 2 || isChainStepped(study, joints[0])) continue;
      for (const span of swingingStretches(study, bones)) {
        const one = lagsOver(study, bones, span);
        if (one !== null) found.push(one);
      }
    }
    return found;
  },
  word: ({ node, from, to, lags, leader }, words) =>
    leader === node
      ? `${words.part} swings link by link, ${told(lags)} frames behind its first, ${words.span(from, to)}`
      : `${words.part} lags behind ${words.name(leader)} by ${told(lags)} frames, ${words.span(from, to)}`,
});

/** Lags to half a frame. */
function told(lags: readonly number[]): string {
  return lags.map((lag) => String(Math.round(2 * lag) / 2)).join(", ");
}

/** The stretches in which a link turns, with the pauses between them and around them. */
function swingingStretches(study: Study, bones: readonly number[]): Span[] {
  const { children } = rigOf(study);
  const { count } = gridOf(study);
  const gap = samplesOf(study, pause);
  const turns = bones.map((node) => boneTurns(study, node, children[node][0]));
  const rest = 2 * restTurnOf(study);
  const stretches: { from: number; to: number }[] = [];
  for (const run of runsWhere(count, (i) => turns.some((turn) => turn[i] > rest))) {
    const last = stretches.at(-1);
    const [from, to] = [Math.max(0, run.from - gap), Math.min(count - 1, run.to + gap)];
    if (last !== undefined && from <= last.to) last.to = to;
    else stretches.push({ from, to });
  }
  return stretches.filter(({ from, to }) => to - from + 1 >= samplesOf(study, shortest));
}

function lagsOver(study: Study, bones: readonly number[], { from, to }: Span): GrowingLag | null {
  const { children, parent } = rigOf(study);
  const perFrame = gridOf(study).rate / referenceRate;
  const directions = bones.map((node) => directionsOf(study, node, children[node][0], from, to));
  const last = directions[directions.length - 1];
  const axis = swingAxis(last);
  const swings = directions.map((one) => along(one, axis));
  if (rangeOf(swings[swings.length - 1]) < lastSwing) return null;
  const carrier = parent[bones[0]];
  const carried = carrier < 0 ? null : along(carriedDirections(study, carrier, directions[0], from), axis);
  const isLed = carried !== null && rangeOf(carried) >= leadSwing;
  const lead = isLed ? carried : swings[0];
  if (rangeOf(lead) < leadSwing) return null;
  const lags: number[] = [];
  for (const swing of isLed ? swings : swings.slice(1)) {
    const { lag, correlation } = bestLag(lead, swing, Math.round(mostLag * perFrame));
    if (!(correlation >= sameCourse)) return null;
    if (lag < (lags.at(-1) ?? 0) + leastStep * perFrame || lag >= mostLag * perFrame) return null;
    lags.push(lag);
  }
  const tip = children[bones[bones.length - 1]][0];
  const base = worldOf(study, carrier < 0 ? bones[0] : carrier);
  return {
    node: bones[0],
    nodes: bones,
    from,
    to,
    measured: { quantity: "lag of the last link", value: lags[lags.length - 1], unit: "frames" },
    within: {
      min: lags.length * leastStep * perFrame,
      max: mostLag * perFrame,
      unit: "frames",
      source: "common practice of overlapping action",
    },
    size: 2 * strayOf(carriedPath(worldOf(study, tip).position, base), from, to),
    lags,
    leader: isLed ? carrier : bones[0],
  };
}
