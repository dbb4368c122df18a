import type { Shot } from "@keyside/core";
import { type Budget, grouped, overBudget } from "../../base/budget.ts";
import { UnreadableError } from "../../base/errors.ts";

/** How much work a shot is, before any of it is done. */
export interface Weight {
  readonly frames: number;
  readonly nodes: number;
  readonly keys: number;
  readonly figures: number;
}

/** @param rate frames per second at which it is judged; undefined for its own */
export function weightOf({ range, frameRate, header, curves }: Shot, rate: number | undefined): Weight {
  const own = frameRate.numerator / frameRate.denominator;
  const length = Math.max(0, range[1] - range[0]);
  let keys = 0;
  for (const { frames } of curves) keys += frames.length;
  return {
    frames: Math.floor((length * (rate ?? own)) / own) + 1,
    nodes: header.nodes.length,
    keys,
    figures: header.figures?.length ?? 0,
  };
}

/**
 * Refuses a shot that is more work than its budget allows.
 * @throws UnreadableError
 */
export function refuseHeavy(file: string, { frames, nodes, keys, figures }: Weight, budget: Budget): void {
  const poses = frames * nodes;
  if (poses > budget.poses) {
    const what = `It has ${grouped(frames)} frames of ${grouped(nodes)} nodes to judge, which are ${grouped(poses)} poses`;
    throw new UnreadableError(file, overBudget("poses", what, poses, budget));
  }
  if (keys > budget.keys) {
    throw new UnreadableError(file, overBudget("keys", `It has ${grouped(keys)} keys`, keys, budget));
  }
  if (figures > budget.figures) {
    const what = `It has ${grouped(figures)} figures`;
    throw new UnreadableError(file, overBudget("figures", what, figures, budget));
  }
}

/** Whether a shot is so little work that neither its time nor its memory need a thread of its own to be bounded. */
export function isLight({ frames, nodes, keys }: Weight): boolean {
  return frames * nodes <= 1_000_000 && keys <= 2_000_000;
}
