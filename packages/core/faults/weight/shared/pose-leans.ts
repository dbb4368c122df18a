import { standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { marginAt, nearestTo } from "../../../motion/body/balance.ts";
import { type GroundDemand, isSamePoint } from "../../../motion/body/ground-demand.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { commonCentreOf } from "../../../motion/parts/loads.ts";
import { bodyCutsOf, piecesOf } from "../../../motion/path/cuts.ts";
import { statureOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import type { Lean, LeanValues } from "./leans.ts";

/**
 * From pose to pose a body shifts its weight by as far as its hip joints are apart, 17 cm of a grown person (from memory), in
 * body heights; what goes on by more than that is on its way, and what carries it there lies between the poses.
 */
const weightShift = 0.1;

/**
 * Leans of blocked work: poses that step keys hold, between two more of them, in which the body is where no fall can take it. A
 * body outside its feet is drawn away from them, over a height h by g / h of its way. From pose to pose it has to be seen to go
 * that way, or to slow down as it comes back; a step that catches it takes nothing of that.
 * @param pose samples for which a pose is held at the least
 */
export function poseLeansOf(
  study: Study,
  figure: number,
  { steady, seated }: GroundDemand,
  { hullAt, outside, beating, pose }: LeanValues,
): Lean[] {
  const cuts = bodyCutsOf(study, figure);
  // On more than two feet a weight shifts by less than is known of how far such feet reach.
  if (cuts.length < 2 || footCountOf(study, figure) > 2) return [];
  const { dt, count } = gridOf(study);
  const centre = commonCentreOf(study, figure);
  const floor = groundOf(study).height;
  const pieces = piecesOf(count, null, cuts);
  const isHeld = ({ from, to }: Span) => isSamePoint(centre, from, to);
  return pieces.slice(1, -1).flatMap((piece, i): Lean[] => {
    const [before, after] = [pieces[i], pieces[i + 2]];
    const { from, to } = piece;
    if (to - from + 1 < Math.round(pose) || ![before, piece, after].every(isHeld)) return [];
    // A pose beside a flight is one of the take-off, or of the landing.
    if (hullAt(before.to).length === 0 || hullAt(after.from).length === 0) return [];
    if (steady[from] === 0 || seated[from] === 1 || beating[from] === 1) return [];
    const hull = hullAt(from);
    const [x, z] = [centre[3 * from], centre[3 * from + 2]];
    if (hull.length < 2 || marginAt(hull, x, z) >= -outside) return [];
    const [a, b] = nearestTo(hull, x, z);
    const out = lengthOf(x - a, z - b);
    /** How far the body of another pose is farther out than this one's, metres. */
    const farther = ({ from: at }: Span) =>
      ((centre[3 * at] - x) * (x - a) + (centre[3 * at + 2] - z) * (z - b)) / out;
    const [last, next] = [farther(before), farther(after)];
    if (last * next < 0 && Math.abs(next - last) >= weightShift * statureOf(study, figure)) {
      excused(-1, from, to, "the body is on its way through a pose");
      return [];
    }
    const middle = (span: Span) => ((span.from + span.to) / 2) * dt;
    const [since, until] = [middle(piece) - middle(before), middle(after) - middle(piece)];
    const drawn = (2 * (next / until + last / since)) / (since + until);
    const height = centre[3 * from + 1] - floor;
    return out - (drawn * height) / standardGravity < outside ? [] : [{ from, to, shown: piece }];
  });
}
