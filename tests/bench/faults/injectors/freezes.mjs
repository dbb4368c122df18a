/** Parts that freeze while the rest goes on. */
import { curveAt, rekeyed } from "../keyed.mjs";
import { below, curvesOf, facts, ownMoves, turnOf } from "./places.mjs";

const degrees = 180 / Math.PI;
/** Frames within which a part that was frozen is where it was meant to be again. */
const catchUp = 8;
const ease = (x) => (x <= 0 ? 0 : x >= 1 ? 1 : x * x * (3 - 2 * x));

export const frozenPart = {
  check: "frozen-part",
  strengths: [13, 16, 22, 30],
  unit: "frames in which nothing of the arm turns",
  bases: ["keyed", "dense"],
  only: (base) => /^(gestures|walk|side steps|quay)/.test(base.name),
  place(base, random) {
    const { first, last, rig, rate } = facts(base);
    const side = random.pick(["l", "r"]);
    const trunk = ["hips", "spine", "chest"].map((id) => rig.indexOf.get(id));
    // A body that goes on turning, by half a degree a frame in two frames of three, in the shortest freeze and the longest.
    const isTurning = (f) => trunk.some((node) => turnOf(base, node, f) * degrees * rate > 12);
    const goesOn = (from) =>
      [13, 30].every((length) => {
        let turning = 0;
        for (let f = from; f < from + length; f++) if (isTurning(f)) turning++;
        return 3 * turning > 2 * length;
      });
    const moves = ownMoves(base, `upper_arm_${side}`, 0.6).filter(
      ({ peak, travel }) =>
        travel > 20 && peak > first + 8 && peak + 30 + catchUp + 4 < last && goesOn(peak + 1),
    );
    return moves.length === 0 ? null : { side, frame: random.pick(moves).peak };
  },
  inject(base, { side, frame }, length) {
    const ids = ["upper_arm", "forearm", "hand"].map((part) => `${part}_${side}`);
    const to = frame + length;
    const curves = ids.flatMap((id) =>
      curvesOf(base, id, "rotation").map((curve) =>
        rekeyed(curve, frame, to + catchUp, (f) => {
          const share = ease((f - to) / catchUp);
          return f <= frame
            ? curveAt(curve, f)
            : (1 - share) * curveAt(curve, frame) + share * curveAt(curve, f);
        }),
      ),
    );
    const nodes = below(base, ids[0]);
    return {
      curves,
      truth: { from: frame, to, nodes, keys: { nodes: new Set(ids), from: frame - 1, to: to + catchUp } },
    };
  },
};
