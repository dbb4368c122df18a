import type { Recompute } from "../shared/compare.ts";
import { dot, inverse, mean, range, sub, turned, unit } from "../shared/geometry.ts";
import { inBody } from "../shared/in-body.ts";
import { restPlace, restTurn } from "../shared/rest.ts";

/**
 * Height of the arm's joint over its rest place, seen from what carries the shoulder, along the body's up axis in the rest
 * pose: the mean over the frames with the arm down in which it is above the limit that the note names.
 */
export const recompute: Recompute = (note, shot) => {
  const shoulder = shot.nodeOf(note);
  const [arm, elbow] = ["UpperArm", "Forearm"].map((part) =>
    shot.part(shoulder, shot.partOf(shoulder).replace("Shoulder", part)),
  );
  const base = shot.rig.parent[shoulder];
  const up = unit(sub(restPlace(shot, base), restPlace(shot, shot.hips(shoulder))));
  // In the axes of what carries the shoulder: how each node above turns it in the rest pose is taken back, from the top on.
  let own = up;
  for (const at of chainTo(shot.rig.parent, base)) own = turned(inverse(restTurn(shot, at)), own);
  const atRest = dot(up, sub(restPlace(shot, arm), restPlace(shot, base))) * shot.metresPerUnit;
  const [from, to] = shot.spanOf(note);
  const [a, b] = [inBody(shot, arm), inBody(shot, elbow)];
  const raised = range(from, to)
    .filter((i) => b(i)[1] < a(i)[1])
    .map(
      (i) => dot(own, turned(inverse(shot.turn(base, i)), sub(shot.at(arm, i), shot.at(base, i)))) - atRest,
    )
    .filter((height) => height > (note.expected.max as number));
  return mean(raised);
};

/** Nodes from the top down to a node. */
function chainTo(parent: Int32Array, node: number): number[] {
  return node < 0 ? [] : [...chainTo(parent, parent[node]), node];
}
