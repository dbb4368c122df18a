// @ts-check
// A person posed by few numbers: hips, spine, head, arms by angle, feet by where their balls stand.
import { legOf } from "./bodies.mjs";
import { heading } from "./rig.mjs";
import { stand } from "./steps.mjs";

/**
 * @typedef {{ at: number[], yaw?: number, pitch?: number, out?: number }} Foot at: where the ball of the foot is
 * @typedef {{ hips: number[], hipsR?: number[], waist?: number[], chest?: number[], neck?: number[], head?: number[],
 *   clavL?: number[], clavR?: number[], armL?: number[], armR?: number[], handL?: number[], handR?: number[], footL: Foot, footR: Foot }} Stance
 *   an arm is [forward, twist, away from the body, bend of the elbow] in degrees, the same signs on both sides
 */

/** @param {import('./rig.mjs').Pose} p @param {Stance} s */
export function strike(p, s) {
  const [x, y, z] = s.hips;
  p.move("hips", x, y, z);
  for (const id of /** @type {const} */ (["hips", "waist", "chest", "neck", "head"])) {
    const r = id === "hips" ? s.hipsR : s[id];
    if (r) p.rot(id, r[0], r[1] ?? 0, r[2] ?? 0);
  }
  for (const side of /** @type {const} */ (["L", "R"])) {
    const k = side === "L" ? 1 : -1;
    const arm = s[`arm${side}`];
    if (arm && p.rig.by.has(`arm${side}`)) {
      p.rot(`arm${side}`, -arm[0], k * arm[1], k * arm[2]);
      p.rot(`fore${side}`, -arm[3], 0, 0);
      const hand = s[`hand${side}`];
      if (hand) p.rot(`hand${side}`, -hand[0], k * (hand[1] ?? 0), k * (hand[2] ?? 0));
      const clav = s[`clav${side}`];
      if (clav) p.rot(`clav${side}`, 0, -k * clav[0], k * clav[1]);
    }
    const foot = s[`foot${side}`];
    const ball = /** @type {any} */ (p.rig.by.get(`ball${side}`)).at;
    stand(
      p,
      legOf(side),
      foot.at,
      foot.yaw ?? 0,
      foot.pitch ?? 0,
      [0, ball[1], -ball[2] * 0.45],
      k * (foot.out ?? 8),
    );
  }
}

/** Parts of a person by name, for the document. @param {(role: string) => string} n @param {string[]} [arms] */
export const partsOf = (n, arms = ["L", "R"]) => ({
  root: n("hips"),
  head: n("head"),
  neck: n("neck"),
  ...Object.fromEntries(
    ["L", "R"].flatMap((s) => {
      const side = s === "L" ? "left" : "right";
      return [
        [`${side}Thigh`, n(`thigh${s}`)],
        [`${side}Shin`, n(`shin${s}`)],
        [`${side}Foot`, n(`foot${s}`)],
        [`${side}Toes`, n(`ball${s}`)],
        ...(arms.includes(s)
          ? [
              [`${side}UpperArm`, n(`arm${s}`)],
              [`${side}Forearm`, n(`fore${s}`)],
              [`${side}Hand`, n(`hand${s}`)],
            ]
          : []),
      ];
    }),
  ),
});

/**
 * Turns the head so that its face is towards a point, by a share.
 * @param {import('./rig.mjs').Pose} p @param {number[]} mark @param {number} share
 */
export function lookAt(p, mark, share) {
  const w = p.world("head");
  const way = mark.map((v, i) => v - w.p[i]);
  const yaw = (Math.atan2(way[0], way[2]) * 180) / Math.PI;
  const pitch = (-Math.atan2(way[1], Math.hypot(way[0], way[2])) * 180) / Math.PI;
  const to = heading(yaw, pitch);
  const sign = to.reduce((s, v, i) => s + v * w.q[i], 0) < 0 ? -1 : 1;
  const q = w.q.map((v, i) => v * (1 - share) + sign * to[i] * share);
  const l = Math.hypot(...q);
  p.face(
    "head",
    q.map((v) => v / l),
  );
}
