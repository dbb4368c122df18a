import { angleBetween, distance, range, toRadians } from "./geometry.ts";
import { posesOf } from "./paces.ts";
import type { Sampled } from "./sampled.ts";

/** A move from rest to rest, or to an end of the range. */
export interface Move {
  readonly from: number;
  readonly to: number;
  readonly startsAtRest: boolean;
  readonly endsAtRest: boolean;
  readonly travel: number;
  /** Samples nearest to the move at which it has, and loses, a tenth of its own peak. */
  readonly starts: number;
  readonly arrives: number;
}

/**
 * Moves in a series of steps: stretches over a floor that somewhere reach twice of it; pauses of two frames (at 24 per
 * second) belong to them.
 */
function movesIn(steps: readonly number[], floor: number, pause: number): Move[] {
  const over = range(1, steps.length - 1).filter((i) => steps[i] >= floor);
  const runs: [number, number][] = [];
  for (const i of over) {
    const run = runs.at(-1);
    if (run !== undefined && i - run[1] <= pause + 1) run[1] = i;
    else runs.push([i, i]);
  }
  return runs.flatMap(([first, last]) => {
    const own = range(first, last);
    const peak = own.reduce((best, i) => (steps[i] > steps[best] ? i : best), first);
    if (steps[peak] < 2 * floor) return [];
    let [starts, arrives] = [first - 1, last];
    while (starts + 1 < peak && steps[starts + 1] < 0.1 * steps[peak]) starts++;
    while (arrives > peak && steps[arrives] < 0.1 * steps[peak]) arrives--;
    const travel = own.reduce((sum, i) => sum + steps[i], 0);
    const ends = { startsAtRest: first > 1, endsAtRest: last < steps.length - 1 };
    return [{ from: first - 1, to: last, ...ends, travel, starts, arrives }];
  });
}

/** The parts of a figure that make moves of 0.02 body heights at their ends, each by the first joint that does. */
export function movingParts(shot: Sampled, figure: number): { part: string; moves: readonly Move[] }[] {
  const size = 0.02 * shot.stature(shot.figures[figure].root);
  return partsOf(shot, figure).flatMap(([part, nodes]) => {
    for (const node of nodes) {
      const moves = turnsOf(shot, node).filter(
        ({ travel }) => travel >= size / Math.max(shot.reach(node), 1e-6),
      );
      if (part === "root") moves.push(...travelsOf(shot, node).filter(({ travel }) => travel >= size));
      if (moves.length > 0) return [{ part, moves }];
    }
    return [];
  });
}

/** A figure's parts; where it has fewer than five, its chains without a branch. */
function partsOf(shot: Sampled, figure: number): [string, readonly number[]][] {
  const { parts, nodes, root } = shot.figures[figure];
  if (parts.size >= 5) return [...parts];
  const { parent, children } = shot.rig;
  const chains = new Map<number, number[]>();
  for (const node of nodes) {
    const above = node === root || children[parent[node]].length > 1 ? undefined : chains.get(parent[node]);
    const chain = above ?? [];
    chain.push(node);
    chains.set(node, chain);
  }
  return [...new Set(chains.values())].map((chain) => [chain[0] === root ? "root" : "node", chain]);
}

function turnsOf(shot: Sampled, node: number): Move[] {
  const parent = shot.rig.parent[node];
  const turn = (i: number) => (parent < 0 ? shot.turn(node, i) : shot.turnIn(node, parent, i));
  const steps = range(0, shot.count - 1).map((i) => (i === 0 ? 0 : angleBetween(turn(i - 1), turn(i))));
  return movesIn(steps, (toRadians(0.25) * 24) / shot.rate, pauseOf(shot, node));
}

function travelsOf(shot: Sampled, node: number): Move[] {
  const steps = range(0, shot.count - 1).map((i) =>
    i === 0 ? 0 : distance(shot.at(node, i - 1), shot.at(node, i)),
  );
  return movesIn(steps, (0.0015 * shot.stature(node) * 24) / shot.rate, pauseOf(shot, node));
}

/** A pose that is held on twos or threes is no rest either. */
function pauseOf(shot: Sampled, node: number): number {
  const poses = posesOf(shot, node);
  const lengths = range(1, poses.length - 1)
    .map((k) => poses[k] - poses[k - 1])
    .sort((a, b) => a - b);
  return Math.max(Math.round((2 * shot.rate) / 24), (lengths[lengths.length >> 1] ?? 1) - 1);
}
