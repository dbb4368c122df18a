import type { Strength, StrengthName } from "@keyside/core";
import {
  add,
  angleBetween,
  angleOf,
  distance,
  dot,
  inverse,
  mean,
  product,
  type Quat,
  range,
  size,
  sub,
  sum,
  times,
  toDegrees,
  turned,
  unit,
  type Vec,
} from "./shared/geometry.ts";
import { bestLag } from "./shared/lag.ts";
import { parabolaThrough } from "./shared/parabola.ts";
import type { Sampled } from "./shared/sampled.ts";
import { soleAt, soleShift } from "./shared/sole.ts";

/**
 * The number of what holds, computed a second time from positions, turns and the frames that are told, as its kind says
 * that it is computed.
 */
export const recomputeStrength: Readonly<
  Record<StrengthName, (strength: Strength, shot: Sampled) => number>
> = {
  /** Gravity of the parabola through the heights of the centre of mass. */
  "true-fall": (strength, shot) => {
    const heights = spanOf(strength, shot).map(
      (i) => [i * shot.dt, shot.massCentre(figureIn(strength, shot), i)[1]] as const,
    );
    return -2 * parabolaThrough(heights).bend;
  },

  /** The knees' mean bend from the first frame on the ground to the lowest. */
  "soft-landing": (strength, shot) => {
    const samples = spanOf(strength, shot);
    const height = (i: number) => shot.massCentre(figureIn(strength, shot), i)[1];
    const low = samples.reduce((best, i) => (height(i) < height(best) ? i : best));
    const hips = shot.node(strength.node);
    const bendAt = (i: number) =>
      mean(
        ["left", "right"].map((side) => {
          const [hip, knee, ankle] = ["Thigh", "Shin", "Foot"].map((part) =>
            shot.at(shot.part(hips, side + part), i),
          );
          return angleOf(sub(knee, hip), sub(ankle, knee));
        }),
      );
    return toDegrees(bendAt(low) - bendAt(samples[0]));
  },

  /** The least distance of the extrapolated centre of mass (Hof 2005) from the edge of what carries, inside it. */
  "held-balance": (strength, shot) => {
    const figure = figureIn(strength, shot);
    const centre = (i: number) => shot.massCentre(figure, i);
    const margins = spanOf(strength, shot).map((i) => {
      const [x, y, z] = centre(i);
      const [before, after] = [Math.max(0, i - 1), Math.min(shot.count - 1, i + 1)];
      const speed = times(sub(centre(after), centre(before)), 1 / ((after - before) * shot.dt));
      const slow = Math.sqrt(Math.max(0.01, y - floorUnder(strength, shot, i)) / 9.80665);
      return insideOf(shot.hull(figure, i), [x + speed[0] * slow, z + speed[2] * slow]);
    });
    return Math.min(...margins);
  },

  /** The farthest of the sole's point from its mean place. */
  "rooted-foot": (strength, shot) => {
    const joint = shot.node(strength.seenAt.at(-1));
    const shift = soleShift(shot, joint);
    return strayOf(spanOf(strength, shot).map((i) => soleAt(shot, joint, shift, i)));
  },

  /** When head and chest have made a quarter of their turn about the upright, one after the other. */
  "head-first-turn": (strength, shot) => {
    const [head, chest] = strength.seenAt.map((id) => shot.node(id));
    const [start, end] = moveAround(shot, head, shot.sample(strength.frames[0]));
    const six = Math.max(1, Math.round(shot.rate / 4));
    const samples = range(Math.max(0, start - six), Math.min(shot.count - 1, end + 2 * six));
    const way = Math.sign(yawOf(shot, head, range(start, end)).at(-1) as number);
    const [one, other] = [head, chest].map((node) => {
      const yaw = yawOf(shot, node, samples).map((angle) => way * angle);
      const level = 0.25 * (yaw.at(-1) as number);
      const k = yaw.findIndex((angle, at) => at > 0 && yaw[at - 1] < level && angle >= level);
      return k - 1 + (level - yaw[k - 1]) / (yaw[k] - yaw[k - 1]);
    });
    return other - one;
  },

  /** Frames from 80 to 10 % of the fastest spacing. */
  "eased-move": (strength, shot) => {
    const node = shot.node(strength.node);
    const carrier = carrierOf(shot, node);
    const place = (i: number): Vec =>
      carrier < 0
        ? shot.at(node, i)
        : turned(inverse(shot.turn(carrier, i)), sub(shot.at(node, i), shot.at(carrier, i)));
    const samples = spanOf(strength, shot);
    const steps = samples.slice(1).map((i) => distance(place(i - 1), place(i)));
    const peak = Math.max(...steps);
    const at = (share: number) => {
      let k = steps.length;
      while (k > 0 && (steps[k - 1] ?? 0) < share * peak) k--;
      const [here, after] = [steps[k - 1], steps[k] ?? 0];
      return k - 1 + (here - share * peak) / (here - after);
    };
    return at(0.1) - at(0.8);
  },

  /** The largest angle between one step and the next, short ones left out. */
  "clean-arc": (strength, shot) => {
    const node = shot.node(strength.node);
    const steps = spanOf(strength, shot)
      .slice(1)
      .map((i) => sub(shot.at(node, i), shot.at(node, i - 1)));
    const longest = Math.max(...steps.map(size));
    const seen = steps.filter((step) => size(step) >= 0.12 * longest);
    return toDegrees(Math.max(...seen.slice(1).map((step, k) => angleOf(seen[k], step))));
  },

  /** From the last frame on which the upper arm turns to the last on which the hand does. */
  "late-stops": (strength, shot) => {
    const [hand, , upper] = strength.seenAt.map((id) => shot.node(id));
    const rest = ((0.25 * Math.PI) / 180) * (24 / shot.rate);
    const stop = (node: number) =>
      spanOf(strength, shot).findLast((i) => {
        const carrier = shot.rig.parent[node];
        return (
          i > 0 && angleBetween(shot.turnIn(node, carrier, i - 1), shot.turnIn(node, carrier, i)) >= rest
        );
      }) ?? Number.NaN;
    return stop(hand) - stop(upper);
  },

  /** The lag at which the last link's direction best follows what leads, along the axis on which it swings. */
  "growing-lag": (strength, shot) => {
    const samples = spanOf(strength, shot);
    const links = strength.seenAt.map((id) => shot.node(id));
    const directions = links.map((node) =>
      samples.map((i) => unit(sub(shot.at(shot.rig.children[node][0], i), shot.at(node, i)))),
    );
    const last = directions[directions.length - 1];
    const axis = mainAxis(last);
    const swing = (ways: readonly Vec[]) => ways.map((way) => dot(way, axis));
    const carrier = shot.rig.parent[links[0]];
    const still = turned(inverse(shot.turn(carrier, samples[0])), directions[0][0]);
    const carried = swing(samples.map((i) => turned(shot.turn(carrier, i), still)));
    const isLed = Math.max(...carried) - Math.min(...carried) >= 0.14;
    const most = Math.round((12 * shot.rate) / 24);
    return bestLag(isLed ? carried : swing(directions[0]), swing(last), most);
  },

  /** Twice the farthest of the part from its mean place. */
  "living-hold": (strength, shot) => {
    const node = shot.node(strength.node);
    return 2 * strayOf(spanOf(strength, shot).map((i) => shot.at(node, i)));
  },
};

const spanOf = ({ frames }: Strength, shot: Sampled) => range(shot.sample(frames[0]), shot.sample(frames[1]));
const figureIn = ({ figure }: Strength, shot: Sampled) => shot.figures.findIndex(({ id }) => id === figure);

function strayOf(places: readonly Vec[]): number {
  const middle = times(places.reduce(add), 1 / places.length);
  return Math.max(...places.map((place) => distance(place, middle)));
}

/** Height of the surface under the contacts of a figure. */
function floorUnder(strength: Strength, shot: Sampled, i: number): number {
  const [contact] = shot.contacts(figureIn(strength, shot)).filter(({ from, to }) => from <= i && i <= to);
  return contact?.surface.height ?? 0;
}

/** Distance of a point inside of a polygon from its nearest edge; negative outside. */
function insideOf(
  corners: readonly (readonly [number, number])[],
  [x, z]: readonly [number, number],
): number {
  const ways = corners.map(([ax, az], k) => {
    const [bx, bz] = corners[(k + 1) % corners.length];
    const length = Math.hypot(bx - ax, bz - az);
    return ((bx - ax) * (z - az) - (bz - az) * (x - ax)) / length;
  });
  return Math.min(...ways);
}

/** The first and last sample of the turning of a node around a sample at which it sets out. */
function moveAround(shot: Sampled, node: number, start: number): [number, number] {
  const rest = ((0.25 * Math.PI) / 180) * (24 / shot.rate);
  const turns = (i: number) => angleBetween(shot.turn(node, i - 1), shot.turn(node, i)) >= rest;
  const pause = Math.round((2 * shot.rate) / 24);
  let end = start + 1;
  for (let i = start + 1; i < shot.count && i - end <= pause + 1; i++) if (turns(i)) end = i;
  return [start, end];
}

/** Turns of a node about the upright against its turn at the first sample, radians, running on past half a turn. */
function yawOf(shot: Sampled, node: number, samples: readonly number[]): number[] {
  const first = shot.turn(node, samples[0]);
  const up = turned(inverse(first), [0, 1, 0]);
  let before = 0;
  return samples.map((i) => {
    const [x, y, z, w]: Quat = product(inverse(first), shot.turn(node, i));
    const angle = 2 * Math.atan2(dot([x, y, z], up), w);
    before = angle + 2 * Math.PI * Math.round((before - angle) / (2 * Math.PI));
    return before;
  });
}

/** What carries a hand or a head: the node above the upper arm or the neck; −1 for the hips. */
function carrierOf(shot: Sampled, node: number): number {
  const part = shot.partOf(node);
  const first = part.endsWith("Hand") ? part.replace("Hand", "UpperArm") : part === "head" ? "neck" : null;
  const top = first === null ? undefined : (shot.parts(node, first)[0] ?? node);
  return top === undefined || top === node ? -1 : shot.rig.parent[top];
}

/** The axis of greatest variance, by powers of the matrix of variances. */
function mainAxis(ways: readonly Vec[]): Vec {
  const middle = times(ways.reduce(add), 1 / ways.length);
  const offs = ways.map((way) => sub(way, middle));
  const variance = [0, 1, 2].map((a) => [0, 1, 2].map((b) => sum(offs.map((off) => off[a] * off[b]))));
  let axis: Vec = unit([1, 0.7, 0.4]);
  for (let n = 0; n < 200; n++) {
    const [x, y, z] = variance.map((row) => row[0] * axis[0] + row[1] * axis[1] + row[2] * axis[2]);
    axis = unit([x, y, z]);
  }
  return axis;
}
