import type { Body, Figure, Joint, Performance, Random, Vector } from "./types.d.ts";

// biome-ignore lint/suspicious/noExplicitAny: the bench is plain JavaScript
export const load = (path: string): Promise<any> =>
  import(/* @vite-ignore */ new URL(`./${path}`, import.meta.url).href);
const motion = await load("motion/index.mjs");

/** A small body on two legs with a hand that can hold, and a plait. Facing z, arms hanging; sizes of a grown person. */
export function smallBody(prefix = ""): Body {
  const joints: Joint[] = [];
  const add = (id: string, parent: string | null, at: Vector, order: Joint["order"] = "yxz") =>
    joints.push({ id: prefix + id, parent: parent === null ? null : prefix + parent, at, order });
  add("hips", null, [0, 0.95, 0]);
  add("spine", "hips", [0, 0.15, 0]);
  add("chest", "spine", [0, 0.2, 0]);
  add("head", "chest", [0, 0.3, 0]);
  for (const n of [1, 2, 3]) {
    add(`hair_${n}`, n === 1 ? "head" : `hair_${n - 1}`, n === 1 ? [0, 0.1, -0.1] : [0, -0.1, 0], "xzy");
  }
  for (const [side, out] of [
    ["l", 1],
    ["r", -1],
  ] as const) {
    add(`upper_arm_${side}`, "chest", [0.18 * out, 0.2, 0], "zxy");
    add(`forearm_${side}`, `upper_arm_${side}`, [0, -0.29, 0], "xyz");
    add(`hand_${side}`, `forearm_${side}`, [0, -0.26, 0], "xzy");
    add(`thigh_${side}`, "hips", [0.09 * out, -0.03, 0], "xzy");
    add(`shin_${side}`, `thigh_${side}`, [0, -0.43, 0], "xyz");
    add(`foot_${side}`, `shin_${side}`, [0, -0.41, 0], "yxz");
    add(`toe_${side}`, `foot_${side}`, [0, -0.06, 0.13], "xyz");
  }
  const named = (...ids: string[]) => ids.map((id) => prefix + id);
  const limbs: Body["limbs"] = [
    ...(["left", "right"] as const).map((side) => {
      const s = side[0];
      const [foot, tip] = named(`foot_${s}`, `toe_${s}`);
      return {
        kind: "leg" as const,
        side,
        joints: named(`thigh_${s}`, `shin_${s}`, `foot_${s}`, `toe_${s}`),
        girdle: `${prefix}hips`,
        sole: { foot, heel: [0, -0.08, -0.05] as Vector, tip, toe: [0, -0.02, 0.06] as Vector },
      };
    }),
    ...(["left", "right"] as const).map((side) => {
      const s = side[0];
      return {
        kind: "arm" as const,
        side,
        joints: named(`upper_arm_${s}`, `forearm_${s}`, `hand_${s}`),
        girdle: `${prefix}chest`,
      };
    }),
    {
      kind: "loose",
      side: "middle",
      joints: named("hair_1", "hair_2", "hair_3"),
      girdle: `${prefix}head`,
    },
  ];
  return {
    plan: "two legs",
    build: "grown person",
    joints,
    root: `${prefix}hips`,
    trunk: named("hips", "spine", "chest"),
    head: `${prefix}head`,
    limbs,
    stature: 1.75,
    mass: 70,
    masses: { [`${prefix}hips`]: 0.6, [`${prefix}chest`]: 0.3, [`${prefix}head`]: 0.1 },
  };
}

/**
 * A body that turns, bends its knees and reaches on planted feet, and takes one step with its left foot. It carries a box
 * in its right hand for a while, and drags a plait.
 */
export function smallPerformance(random: Random, frames = 120, figures = ["porter"]): Performance {
  const cast: Figure[] = figures.map((id) => ({
    id,
    body: smallBody(figures.length > 1 ? `${id}_` : ""),
  }));
  const performance: Performance = motion.emptyPerformance({
    rate: 24,
    frames,
    first: 1001,
    figures: cast,
    props: [{ id: "box", mass: 1, half: [0.1, 0.1, 0.1] }],
  });
  cast.forEach((figure, n) => {
    act(performance, figure, random.fork(figure.id), n);
  });
  return performance;
}

function act(performance: Performance, { id: figure, body }: Figure, random: Random, n: number) {
  const { first, last } = performance;
  const own = (name: string) => body.joints[0].id.replace("hips", name);
  const ease = (frame: number, from: number, to: number) => motion.minimumJerk((frame - from) / (to - from));
  const move = (name: string, from: number, to: number, list: [string, string, number, number][]) =>
    motion.addGesture(performance, {
      name,
      figure,
      from,
      to,
      parts: list.map(([joint, channel, by, offset]) => ({ joint: own(joint), channel, by, offset })),
    });
  motion.setTrack(performance, own("hips"), "translation.x", () => n);
  motion.setTrack(performance, own("hips"), "translation.y", () => 0.91);
  move("turn", first + 10, first + 30, [
    ["hips", "rotation.y", 12, 0],
    ["chest", "rotation.y", 25, 2],
    ["head", "rotation.y", 35, -2],
    ["hips", "translation.y", -0.05, 0],
    ["upper_arm_r", "rotation.x", -40, 3],
    ["forearm_r", "rotation.x", -30, 5],
  ]);
  move("back", first + 50, first + 80, [
    ["hips", "rotation.y", -random.between(8, 12), 0],
    ["chest", "rotation.y", -25, 2],
    ["hips", "translation.z", 0.15, 0],
    ["upper_arm_l", "rotation.z", 30, 0],
  ]);
  motion.addBreath(performance, {
    parts: [{ joint: own("chest"), channel: "rotation.x", by: -0.8 }],
    random,
  });
  const [stepFrom, stepTo] = [first + 55, first + 70];
  for (let frame = first; frame <= last; frame++) {
    const step = ease(frame, stepFrom, stepTo);
    const lift = 0.12 * 16 * step * step * (1 - step) * (1 - step);
    motion.solveLimb(performance, figure, 0, frame, [n + 0.12, 0.08 + lift, 0.25 * step], [0, 0, 0, 1]);
    motion.solveLimb(performance, figure, 1, frame, [n - 0.12, 0.08, 0], [0, 0, 0, 1]);
  }
  performance.events.push(
    { kind: "plant", figure, limb: 0, from: first, to: stepFrom, rolls: false },
    { kind: "swing", figure, limb: 0, from: stepFrom + 1, to: stepTo - 1 },
    { kind: "plant", figure, limb: 0, from: stepTo, to: last, rolls: false },
    { kind: "plant", figure, limb: 1, from: first, to: last, rolls: false },
  );
  motion.dragLimb(performance, figure, 4);
  if (n > 0) return;
  carry(performance, figure, own("hand_r"));
}

/** The box goes with the right hand from the 30th to the 50th frame. */
function carry(performance: Performance, figure: string, hand: string) {
  const { first, last } = performance;
  const [from, to] = [first + 30, first + 50];
  for (let frame = first; frame <= last; frame++) {
    const held = Math.max(from, Math.min(to, frame));
    const { position, quaternion } = motion.worldAt(performance, hand, held);
    "xyz".split("").forEach((axis, k) => {
      motion.trackOf(performance, "box", `translation.${axis}`)[frame - first] = position[k];
    });
    motion.setTurn(performance, "box", frame, quaternion);
  }
  performance.events.push({ kind: "hold-prop", prop: "box", figure, limbs: [3], from, to });
}
