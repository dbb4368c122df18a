import type { Contact } from "@keyside/core";
import { range } from "./geometry.ts";
import { posesOf } from "./paces.ts";
import type { Sampled } from "./sampled.ts";

const gravity = 9.80665;

/** A body's fall between two samples in which nothing carries it. */
export interface Fall {
  /** Vertical acceleration of the centre of mass at a sample over its own fall, m/s². */
  over(sample: number): number;
  /** Its vertical speed up to a sample, m/s. */
  speed(sample: number): number;
  /** Samples on either side of one that an acceleration is taken from. */
  readonly reach: number;
}

/**
 * Its own fall is the lower quarter of the accelerations in the air, gravity at most; gravity where it does not fall.
 * Accelerations are taken over one frame (at 24 per second), or one pose, on either side.
 */
export function fallBetween(shot: Sampled, hips: number, from: number, to: number): Fall {
  const poses = posesOf(shot, hips);
  const lengths = range(1, poses.length - 1)
    .map((k) => poses[k] - poses[k - 1])
    .sort((a, b) => a - b);
  const reach = Math.max(1, Math.round(shot.rate / 24)) * (lengths[lengths.length >> 1] ?? 1);
  const figure = shot.figureOf(hips);
  const height = (i: number) => shot.massCentre(figure, i)[1];
  const span = reach * shot.dt;
  const lift = (i: number) => (height(i + reach) - 2 * height(i) + height(i - reach)) / (span * span);
  const sorted = range(from + reach, to - reach)
    .map(lift)
    .sort((a, b) => a - b);
  const quarter = sorted[Math.floor((sorted.length - 1) / 4)];
  const own = quarter < -0.2 * gravity ? Math.max(quarter, -gravity) : -gravity;
  return {
    over: (i) => (i < from + reach || i > to - reach ? Number.NEGATIVE_INFINITY : lift(i) - own),
    speed: (i) => (height(i) - height(i - reach)) / span,
    reach,
  };
}

/** Whether a body is in the air at a sample: higher than 0.006 body heights, and with no contact but what it holds. */
function isFree(shot: Sampled, figure: number, i: number): boolean {
  const { root } = shot.figures[figure];
  const carries = shot
    .contacts(figure)
    .some((contact) => contact.from <= i && i <= contact.to && canCarry(shot, figure, contact));
  return !carries && shot.clearance(figure, i) > 0.006 * shot.stature(root);
}

/**
 * What is held carries no body; nor does an ankle that passes the height of a surface, where its ball is declared to stand
 * on that at no time within four frames.
 */
function canCarry(shot: Sampled, figure: number, { node, from, to, surface, declared }: Contact): boolean {
  if (shot.rig.indexOf.has(surface.id)) return false;
  const ball = shot.parts(node, shot.partOf(node).replace("Foot", "Toes"))[0];
  const own = shot.contacts(figure).filter((other) => other.node === ball && other.declared);
  if (declared || ball === node || own.length === 0) return true;
  const late = Math.round((4 * shot.rate) / 24);
  return own.some(
    (other) => other.surface.id === surface.id && other.from <= to + late && from <= other.to + late,
  );
}

/** The last sample before one, or the first one after it, to which the body is in the air all the way. */
export function freeFrom(shot: Sampled, figure: number, start: number, way: 1 | -1): number {
  let i = start;
  while (i + way >= 0 && i + way < shot.count && isFree(shot, figure, i + way)) i += way;
  return i;
}
