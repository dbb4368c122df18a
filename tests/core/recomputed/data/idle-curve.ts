import type { Recompute } from "../shared/compare.ts";

/**
 * Keys of the node's curves that hold one value throughout, of three keys and more, and that are not keyed on the very
 * frames of a curve of the figure that moves.
 */
export const recompute: Recompute = ({ keys: [key] }, shot) => {
  const node = shot.node(key.node);
  const isStill = (values: ArrayLike<number>, width: number) =>
    Array.from(values).every((value, i) => Math.abs(value - values[i % width]) <= 1e-6);
  const moving = new Set(
    shot.rig.ids
      .map((_, other) => other)
      .filter(
        (other) => other === node || shot.figureOf(node) < 0 || shot.figureOf(other) === shot.figureOf(node),
      )
      .flatMap((other) => shot.curvesOf(other))
      .filter(({ values, width }) => !isStill(values, width))
      .map(({ frames }) => frames.join()),
  );
  return shot
    .curvesOf(node)
    .filter(
      ({ frames, values, width }) =>
        frames.length >= 3 && isStill(values, width) && !moving.has(frames.join()),
    )
    .reduce((sum, { frames }) => sum + frames.length, 0);
};
