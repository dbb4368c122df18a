/** Faults of acts that an arm makes. */
import { curveAt, rekeyed } from "../keyed.mjs";
import { facts, turnOf } from "./places.mjs";

const degrees = 180 / Math.PI;
const trunk = ["hips", "spine", "chest"];
/** Frames for which the hand stays at what it has come to. */
const stays = 6;

export const loneArm = {
  check: "lone-arm",
  strengths: [4, 3, 1.5, 0],
  unit: "° that the chest turns into a reach of the whole arm",
  bases: ["keyed", "dense"],
  only: (base) => /^gestures/.test(base.name),
  place(base, random) {
    const { first, last, rig } = facts(base);
    const length = random.whole(11, 14);
    const from = random.whole(first + 8, last - 2 * length - stays - 4);
    // Only where the trunk does not turn by itself.
    for (let f = from - 7; f <= from + length + 3; f++) {
      if (trunk.some((id) => turnOf(base, rig.indexOf.get(id), f) * degrees > 0.3)) return null;
    }
    return { side: random.pick(["l", "r"]), from, to: from + length, height: random.between(-100, -70) };
  },
  inject(base, { side, from, to, height }, turn) {
    const out = side === "l" ? 1 : -1;
    const back = to + stays;
    const until = back + to - from + 2;
    const eased = (t) => {
      const s = Math.max(0, Math.min(1, t));
      return s * s * s * (10 - 15 * s + 6 * s * s);
    };
    const there = (f) => eased((f - from) / (to - from)) * (1 - eased((f - back) / (until - back)));
    // The arm goes out to the front, straight but for eight degrees, and comes back.
    const goal = {
      [`upper_arm_${side}`]: [height, 0, out * 4],
      [`forearm_${side}`]: [-8, 0, 0],
    };
    const curves = Object.entries(goal).flatMap(([id, angles]) =>
      ["x", "y", "z"].flatMap((axis, k) => {
        const own = base.curves.get(`${id} rotation.${axis}`);
        if (own === undefined) return [];
        return rekeyed(own, from, until, (f) => {
          const now = curveAt(own, f);
          return now + there(f) * (angles[k] - now);
        });
      }),
    );
    const chest = base.curves.get("chest rotation.y");
    if (chest === undefined) return null;
    curves.push(rekeyed(chest, from, until, (f) => curveAt(chest, f) - out * turn * there(f)));
    const hand = `hand_${side}`;
    const { header } = base.shot;
    const contacts = [...(header.contacts ?? []), { node: hand, with: "rope", frames: [to, back] }];
    return {
      curves,
      shot: { ...base.shot, header: { ...header, contacts } },
      truth: {
        from,
        to,
        nodes: new Set([hand, "chest"]),
        keys: { nodes: new Set(trunk), channels: /^rotation/, from: from - 30, to: to + 8 },
      },
    };
  },
};
