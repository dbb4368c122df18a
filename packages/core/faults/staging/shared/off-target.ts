import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { worldOf } from "../../../rig/pose.ts";
import { faceOf } from "./face.ts";

/** Per sample the angle between where the face points and the way to the target, radians; null where no face is known. */
export function offTarget(study: Study, figure: number, head: number, target: number): Float64Array | null {
  const face = faceOf(study, figure);
  if (face === null) return null;
  const a = worldOf(study, head).position;
  const b = worldOf(study, target).position;
  const off = floats(a.length / 3);
  for (let i = 0; i < off.length; i++) {
    const [x, y, z] = face.at(i);
    const dx = b[3 * i] - a[3 * i];
    const dy = b[3 * i + 1] - a[3 * i + 1];
    const dz = b[3 * i + 2] - a[3 * i + 2];
    off[i] = Math.atan2(
      lengthOf(y * dz - z * dy, z * dx - x * dz, x * dy - y * dx),
      x * dx + y * dy + z * dz,
    );
  }
  return off;
}
