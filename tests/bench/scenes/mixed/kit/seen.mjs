// @ts-check
/**
 * How far each flaw of a scene moves its nodes: what the flawed version differs by from the clean one, flaw by flaw, in the
 * flaw's frames.
 *
 *     node tests/bench/scenes/mixed/kit/seen.mjs NAME...
 */

import { conj, len, qmul, sub } from "../../people/kit/math.mjs";
import { poses } from "../../people/kit/read.mjs";

for (const name of process.argv.slice(2)) {
  const scene = await import(`../scenes/${name}.mjs`);
  const [clean, flawed] = [scene.clean(), scene.flawed()].map((doc) => poses(doc));
  const first = scene.clean().shot.range[0];
  for (const flaw of scene.flaws) {
    const told = flaw.nodes.map((/** @type {string} */ id) => {
      let [far, angle, at] = [0, 0, 0];
      for (let f = flaw.frames[0]; f <= flaw.frames[1]; f++) {
        const [a, b] = [clean[f - first][id], flawed[f - first][id]];
        const d = len(sub(a.p, b.p));
        const turned = 2 * Math.acos(Math.min(1, Math.abs(qmul(conj(a.q), b.q)[3]))) * 57.2958;
        if (d > far) [far, at] = [d, f];
        angle = Math.max(angle, turned);
      }
      return `${id} ${(far * 100).toFixed(1)} cm (${at}) ${angle.toFixed(0)}°`;
    });
    console.log(
      `${name} ${flaw.order} ${flaw.size} ${flaw.kind} ${flaw.frames.join("–")}: ${told.join(", ")}`,
    );
  }
}
