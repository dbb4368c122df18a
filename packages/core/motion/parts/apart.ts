import { angleBetween, conjugate, multiplyQuaternions } from "../../base/quaternion.ts";
import type { Study } from "../../base/study.ts";
import { localRotationOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";

/** How two joints turn, and how far they are apart, summed over samples, radians. */
export interface TurnsApart {
  readonly turned: number;
  readonly apart: number;
}

/**
 * How far two joints have turned against their parents since the first sample, the first one's angle and the angle between
 * both, each summed over all samples: none apart where the one is a copy of the other.
 */
export function relativeTurnApart(study: Study, one: number, other: number): TurnsApart {
  const { count } = gridOf(study);
  const since = [one, other].map((node) => {
    const turns = localRotationOf(study, node);
    return { turns, back: conjugate(turns, 0) };
  });
  const here = new Float64Array(8);
  const none = Float64Array.of(0, 0, 0, 1);
  let turned = 0;
  let apart = 0;
  for (let i = 1; i < count; i++) {
    since.forEach(({ turns, back }, k) => {
      multiplyQuaternions(back, 0, turns, 4 * i, here, 4 * k);
    });
    turned += angleBetween(here, 0, none, 0);
    apart += angleBetween(here, 0, here, 4);
  }
  return { turned, apart };
}
