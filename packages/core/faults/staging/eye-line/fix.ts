import { cross, dot, minus, pointAt, scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { worldOf } from "../../../rig/pose.ts";
import { defineFix } from "../../fix.ts";
import { faceOf } from "../shared/face.ts";
import { waysToTurn } from "../shared/turnings.ts";
import { eyeLine } from "./check.ts";

export const eyeLineFix = defineFix(eyeLine, {
  what: "Turns the head to its target.",
  title: ({ node, frames }) => `turn ${node ?? "the head"} to its target from frame ${frames[0]} on`,
  margin: { off: 0.7 },
  *propose({ study, finding }) {
    const face = faceOf(study, finding.figure);
    if (face === null) return;
    const { node, target } = finding;
    const [eyes, seen] = [worldOf(study, node).position, worldOf(study, target).position];
    /** The least turn that points the face at the target, as a rotation vector. */
    const missing = (i: number): Vector | null => {
      const [ahead, way] = [face.at(i), minus(pointAt(seen, i), pointAt(eyes, i))];
      const about = cross(ahead, way);
      const size = vectorLength(about);
      return size > 0 ? scaled(about, Math.atan2(size, dot(ahead, way)) / size) : null;
    };
    const turnings = [1, 0.8].map((share) => ({
      node,
      turnAt: (i: number) => {
        const turn = missing(i);
        return turn === null ? null : scaled(turn, share);
      },
    }));
    yield* waysToTurn(study, finding, turnings);
  },
});
