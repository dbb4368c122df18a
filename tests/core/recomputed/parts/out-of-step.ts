import { elevation, turnsOf, vertexAt } from "../shared/beats.ts";
import type { Recompute } from "../shared/compare.ts";
import { add, dot, inverse, mean, median, range, sub, turned, unit, type Vec } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/** Landings between those of the foot on the other side, or turning points of a wing against those of the other wing. */
export const recompute: Recompute = (note, shot) => {
  const own = shot.nodeOf(note);
  const other = shot.node(note.seenAt.at(-1));
  const [from, to] = shot.spanOf(note);
  if (note.measured.quantity.startsWith("lag")) return wingLag(shot, own, other, from, to);
  const within = (end: number) => landings(shot, end).filter((at) => at > from - 1 && at < to + 1);
  const [mine, its] = [within(endBelow(shot, own)), within(other)];
  if (note.measured.quantity.includes("without")) {
    const isMissing = its.slice(1).some((next, k) => !mine.some((at) => at > its[k] && at < next));
    return isMissing ? 1 : 0;
  }
  const beside = (some: readonly number[], against: readonly number[]) =>
    against.slice(1).flatMap((next, k) => {
      const inside = some.filter((at) => at > against[k] && at < next);
      return inside.length === 1 ? [(inside[0] - against[k]) / (next - against[k]) - 0.5] : [];
    });
  const late = [...beside(mine, its), ...beside(its, mine).map((share) => -share)];
  return Math.abs(median(late.filter((share) => Math.abs(share) >= 0.125)));
};

function endBelow(shot: Sampled, node: number): number {
  let end = node;
  while (shot.rig.children[end].length > 0) end = shot.rig.children[end][0];
  return end;
}

/** When an end is farthest ahead of the body, along the way that the body goes in its own axes. */
function landings(shot: Sampled, end: number): number[] {
  const body = shot.hips(end);
  const samples = range(0, shot.count - 1);
  const inAxes = (v: Vec, i: number) => turned(shot.turn(body, 0), turned(inverse(shot.turn(body, i)), v));
  const steps = samples.slice(1).map((i) => inAxes(sub(shot.at(body, i), shot.at(body, i - 1)), i - 1));
  const [x, , z] = steps.reduce(add);
  const way = unit([x, 0, z]);
  const ahead = samples.map((i) => dot(inAxes(sub(shot.at(end, i), shot.at(body, i)), i), way));
  const height =
    mean(samples.map((i) => shot.at(body, i)[1])) - Math.min(...samples.map((i) => shot.at(end, i)[1]));
  const turns = turnsOf(ahead, 0.1 * height);
  return turns
    .filter((at, e) => ahead[at] > ahead[turns[e + 1] ?? turns[e - 1]])
    .map((at) => vertexAt(ahead, at).time);
}

/** The median lag between turning points of two wings, over the median of their beats; only those that are apart. */
function wingLag(shot: Sampled, late: number, early: number, from: number, to: number): number {
  const turns = (wing: number) => {
    const series = elevation(shot, shot.figureOf(wing), wing);
    return turnsOf(series).map((at, e, all) => ({
      at: vertexAt(series, at).time,
      isTop: series[at] > series[all[e + 1] ?? all[e - 1]],
    }));
  };
  const [its, mine] = [turns(late), turns(early)];
  const lags = mine.flatMap(({ at, isTop }, e) => {
    const beat = e + 2 < mine.length ? mine[e + 2].at - at : at - mine[e - 2].at;
    if (at < from + beat / 4 || at > to - beat / 4) return [];
    const [lag] = its
      .filter((turn) => turn.isTop === isTop)
      .map((turn) => turn.at - at)
      .sort((a, b) => Math.abs(a) - Math.abs(b));
    return Math.abs(lag) >= beat / 12 ? [{ lag, beat }] : [];
  });
  return Math.abs(median(lags.map(({ lag }) => lag))) / median(lags.map(({ beat }) => beat));
}
