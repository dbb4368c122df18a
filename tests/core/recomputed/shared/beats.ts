import { dot, inverse, size, sub, turned, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/** One beat of a wing: from one of its turning points to the next but one. */
export interface Beat {
  readonly from: number;
  readonly to: number;
  /** rate² · amplitude². */
  readonly lift: number;
}

/** Least swing that counts: about 6°. */
const leastSwing = 0.1;

/** The beats of a figure's strongest wing: of all that the document declares as propulsors, or else of its two wings. */
export function strongestBeats(shot: Sampled, figure: number): readonly Beat[] {
  let best: readonly Beat[] = [];
  let most = -1;
  for (const series of wingsOf(shot, figure)) {
    const beats = beatsOf(series, shot.rate);
    const sum = beats.reduce((total, { lift }) => total + lift, 0);
    if (sum > most) [best, most] = [beats, sum];
  }
  return best;
}

function wingsOf(shot: Sampled, figure: number): number[][] {
  const { id, parts } = shot.figures[figure];
  const { space, propulsors } = shot.shot.header;
  const declared = (propulsors ?? []).filter((one) => one.figure === id);
  if (declared.length > 0) {
    return declared.flatMap(({ nodes, channel }) =>
      nodes.map((node) => {
        if (channel === "rotation") return elevation(shot, figure, shot.node(node));
        const isTurn = channel.startsWith("rotation") && space?.angle !== "radians";
        const factor = isTurn ? Math.PI / 180 : 1;
        return [...shot.values(shot.curve(node, channel))].map((value) => factor * value);
      }),
    );
  }
  return (["leftWing", "rightWing"] as const).flatMap((part) => {
    const [wing] = parts.get(part) ?? [];
    return wing === undefined ? [] : [elevation(shot, figure, wing)];
  });
}

/** Sine of the angle at which a wing's end stands over its root, in the axes of the body. */
export function elevation(shot: Sampled, figure: number, wing: number): number[] {
  const body = shot.hips(shot.figures[figure].root);
  let tip = wing;
  while (shot.rig.children[tip].length > 0) tip = shot.rig.children[tip][0];
  const up: Vec = turned(inverse(shot.turn(body, 0)), [0, 1, 0]);
  return Array.from({ length: shot.count }, (_, i) => {
    const arm = sub(shot.at(tip, i), shot.at(wing, i));
    return dot(turned(inverse(shot.turn(body, i)), arm), up) / size(arm);
  });
}

function beatsOf(series: readonly number[], rate: number): Beat[] {
  const turns = turnsOf(series).map((at) => ({ at, ...vertexAt(series, at) }));
  return turns.slice(2).map((last, k) => {
    const [first, middle] = [turns[k], turns[k + 1]];
    const swing = Math.abs(middle.value - first.value) + Math.abs(last.value - middle.value);
    return { from: first.at, to: last.at, lift: ((rate / (last.time - first.time)) * (swing / 4)) ** 2 };
  });
}

/** Samples at which a series turns back by more than the least swing; not the first one. */
export function turnsOf(series: readonly number[], least = leastSwing): number[] {
  const found: number[] = [];
  // Looked for is a high (1), a low (−1), or either.
  let looking = 0;
  let [high, low] = [0, 0];
  series.forEach((value, i) => {
    if (value > series[high]) high = i;
    if (value < series[low]) low = i;
    if (looking >= 0 && series[high] - value > least) {
      if (high > 0) found.push(high);
      [looking, low] = [-1, i];
    } else if (looking <= 0 && value - series[low] > least) {
      if (low > 0) found.push(low);
      [looking, high] = [1, i];
    }
  });
  return found;
}

/** Time and value of the vertex of the parabola through a sample and those beside it, within half a sample. */
export function vertexAt(series: readonly number[], at: number): { time: number; value: number } {
  const [a, b, c] = [series[at - 1], series[at], series[at + 1]];
  const bend = a - 2 * b + c;
  if (c === undefined || bend === 0) return { time: at, value: b };
  const shift = Math.max(-0.5, Math.min(0.5, (a - c) / (2 * bend)));
  return { time: at + shift, value: b - (shift * (a - c)) / 4 };
}
