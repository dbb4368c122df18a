// @ts-check
/**
 * What is measured of these scenes: the clean one by the kit's means, reaches that fell short; how much each flaw moves its
 * nodes, and what differs between the two versions outside of all flaws.
 *
 *     node tests/bench/scenes/varied/kit/verify.mjs NAME...
 */
import { valueAt } from "../../creatures/kit/curve.mjs";
import { evaluator } from "../../creatures/kit/evaluate.mjs";
import { len, qinv, qmul, sub } from "../../creatures/kit/math.mjs";
import { measure } from "../../creatures/kit/measure.mjs";
import { missed } from "./stage.mjs";

for (const name of process.argv.slice(2)) {
  const scene = await import(`../scenes/${name}.mjs`);
  missed.length = 0;
  const clean = scene.clean();
  const short = [...missed];
  const flawed = scene.flawed();
  const [a, b] = clean.shot.range;
  console.log(
    `== ${name}: ${b - a + 1} frames, ${clean.curves.reduce((/** @type {number} */ s, /** @type {any} */ c) => s + c.keys.length, 0)} keys`,
  );
  for (const line of [...new Set(short)].slice(0, 8)) console.log(`  SHORT ${line}`);
  for (const line of measure(clean, scene.truth ?? {})) console.log(`  CLEAN ${line}`);
  for (const c of clean.curves) {
    if (!c.channel.startsWith("rotation")) continue;
    let [worst, where] = [0, 0];
    for (let f = a; f < b; f += 0.5) {
      const d = Math.abs(
        valueAt(c.keys, f + 0.5, c.interpolation ?? "linear") -
          valueAt(c.keys, f, c.interpolation ?? "linear"),
      );
      if (d > worst) [worst, where] = [d, f];
    }
    if (worst > 20 * (24 / clean.shot.frameRate) && c.interpolation !== "step")
      console.log(`  TURN ${c.node} ${c.channel}: ${worst.toFixed(0)}° in half a frame at ${where}`);
  }
  const [ec, ef] = [evaluator(clean), evaluator(flawed)];
  for (const flaw of scene.flaws) {
    const told = flaw.nodes.map((/** @type {string} */ id) => {
      let [far, angle, at] = [0, 0, 0];
      for (let f = flaw.frames[0]; f <= flaw.frames[1]; f++) {
        const [p, q] = [ec.world(id, f), ef.world(id, f)];
        const d = len(sub(p.p, q.p));
        if (d > far) [far, at] = [d, f];
        angle = Math.max(angle, 114.6 * Math.acos(Math.min(1, Math.abs(qmul(qinv(p.q), q.q)[3]))));
      }
      return `${id} ${(far * 100).toFixed(1)}cm@${at} ${angle.toFixed(0)}°`;
    });
    console.log(`  ${flaw.order} ${flaw.size} [${flaw.kind}] ${flaw.frames.join("–")}: ${told.join(", ")}`);
  }
  const at = (/** @type {any} */ doc, /** @type {string} */ node, /** @type {string} */ channel) => {
    const c = doc.curves.find((/** @type {any} */ x) => x.node === node && x.channel === channel);
    const rest = doc.nodes.find((/** @type {any} */ n) => n.id === node);
    const kind = channel.split(".")[0];
    const still = (rest[kind] ?? (kind === "scale" ? [1, 1, 1] : [0, 0, 0]))[
      "xyz".indexOf(channel.slice(-1))
    ];
    return (/** @type {number} */ f) => (c ? valueAt(c.keys, f, c.interpolation ?? "linear") : still);
  };
  const channels = new Set([...clean.curves, ...flawed.curves].map((c) => `${c.node}|${c.channel}`));
  for (const key of channels) {
    const [node, channel] = key.split("|");
    const [x, y] = [at(clean, node, channel), at(flawed, node, channel)];
    const eps = channel.startsWith("t") ? 0.004 / (clean.space.metresPerUnit ?? 1) : 0.6;
    let [worst, where] = [0, 0];
    const off = [];
    for (let f = a; f <= b; f++) {
      if (Math.abs(x(f) - y(f)) < eps) continue;
      if (
        scene.flaws.some(
          (/** @type {any} */ w) => w.nodes.includes(node) && f >= w.frames[0] && f <= w.frames[1],
        )
      )
        continue;
      off.push(f);
      if (Math.abs(x(f) - y(f)) > worst) [worst, where] = [Math.abs(x(f) - y(f)), f];
    }
    if (off.length)
      console.log(
        `  OUTSIDE ${key}: ${off[0]}..${off[off.length - 1]} (${off.length}), most ${worst.toFixed(2)} at ${where}`,
      );
  }
}
