import { standardGravity } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween, lengthOf } from "../../../base/vector.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Lift } from "../shared/lifts.ts";

/** Shortest time over which an effort is told, seconds: a pop of a frame or two is no lift. */
const shortest = 1 / 8;

/** What a lift asks of who does it: the samples over which it asks most, and how fast it goes there. */
export interface Effort {
  readonly from: number;
  readonly to: number;
  /**
   * Metres a second at which a thing gains height, and with it what its speed would still carry it up if it were let go:
   * times its weight, the power that the lift takes.
   */
  readonly speed: number;
}

/** The most that a lift asks; null where step keys switch it. */
export function effortOf(study: Study, { thing, from, to }: Lift): Effort | null {
  if (cutsOf(study, thing).some((cut) => cut > from && cut <= to)) return null;
  const { position } = worldOf(study, thing);
  const { rate } = gridOf(study);
  const most = mostEffort((i) => position[3 * (from + i) + 1], to - from, rate);
  return { from, to: from + most.to, speed: most.speed };
}

/**
 * The stretch from the first sample on over which a height asks most.
 * @param height metres by sample, 0 to last
 * @param rate samples a second
 */
export function mostEffort(
  height: (i: number) => number,
  last: number,
  rate: number,
): { readonly to: number; readonly speed: number } {
  const least = Math.max(2, Math.round(shortest * rate));
  // A thing that is on its way already brings that with it.
  const reach = (i: number) => {
    const up = i <= 0 ? (height(1) - height(0)) * rate : ((height(i + 1) - height(i - 1)) * rate) / 2;
    return height(i) + Math.max(0, up) ** 2 / (2 * standardGravity);
  };
  const bottom = reach(0);
  let most = { to: last, speed: 0 };
  for (let i = least; i < last; i++) {
    const speed = ((reach(i) - bottom) * rate) / i;
    if (speed > most.speed) most = { to: i, speed };
  }
  return most;
}

/** How a lift moves the common centre of mass of body and load over the ground, and how far the body goes against it; metres. */
export interface Counter {
  readonly shift: number;
  readonly answer: number;
}

/** A body answers from so long before a load leaves its place until so long after it is up, seconds. */
const [before, after] = [0.5, 0.25];
/** A body whose feet go by so much of the load's distance from it walks, and is under way. */
const walked = 0.25;

/**
 * How a body answers a load that it lifts; null where it walks meanwhile, or has no legs to stand on.
 * @param share of the load in the mass of both, 0 to 1
 */
export function counterOf(study: Study, figure: number, lift: Lift, share: number): Counter | null {
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  if (legs.length === 0) return null;
  const { thing, from, to } = lift;
  const { count, rate } = gridOf(study);
  const [first, last] = [
    Math.max(0, from - Math.round(before * rate)),
    Math.min(count - 1, to + Math.round(after * rate)),
  ];
  const load = worldOf(study, thing).position;
  const body = massCentreOf(study, figure);
  const [x, z] = [load[3 * to] - body[3 * to], load[3 * to + 2] - body[3 * to + 2]];
  const away = lengthOf(x, z);
  const feet = legs.map(({ end }) => worldOf(study, end).position);
  if (feet.some((path) => distanceBetween(path, first, path, last) > walked * away)) return null;
  // Hips and shoulders: what arms do is the lift itself.
  const trunk = limbsOf(study, figure).map(({ root }) => worldOf(study, root).position);
  const against = (i: number) => {
    let sum = 0;
    for (const path of trunk)
      sum += (path[3 * first] - path[3 * i]) * x + (path[3 * first + 2] - path[3 * i + 2]) * z;
    return sum / (trunk.length * away);
  };
  let answer = 0;
  for (let i = first; i <= last; i++) answer = Math.max(answer, against(i));
  return { shift: share * away, answer };
}
