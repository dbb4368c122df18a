// @ts-check
/**
 * What the kits themselves measure on clean scenes: feet that slide, falls, balance, spikes. It asks no check.
 *
 *     node tests/bench/scenes/measure.mjs [NAME]...
 */
import { measure } from "./creatures/kit/measure.mjs";
import { inspect } from "./people/kit/measure.mjs";
import { scenes } from "./sets.mjs";

const wanted = process.argv.slice(2);
for (const { load } of scenes) {
  const scene = await load();
  if (wanted.length > 0 && !wanted.includes(scene.name)) continue;
  const found = scene.build === undefined ? measure(scene.clean(), scene.truth) : inspect(scene.build(false));
  console.log(`${scene.name}: ${found.length === 0 ? "clean" : ""}`);
  for (const line of found) console.log(`  ${line}`);
}
