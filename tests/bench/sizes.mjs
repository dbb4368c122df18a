// How the work grows with the size of a shot: `npm run bench:sizes`. Processor time, so that others on the machine tell little.
import { availableParallelism, loadavg } from "node:os";
import { defaultSettings, notesOf, readShot, registry, studyOf } from "@keyside/core";
import { gltfReader } from "./gltf-chain.mjs";
import { median, table } from "./measure.mjs";
import { skeletonDocument } from "./skeleton.mjs";

const settings = defaultSettings(registry);
/** Runs that count, after one that does not; large sizes take long, and the engine has compiled what it runs by then. */
const rounds = Number(process.env.SIZE_ROUNDS ?? 3);
/** No size is measured whose run before took more than so many seconds. */
const patience = Number(process.env.SIZE_SECONDS ?? 60);

const body = (count, frames) => skeletonDocument({ count, frames, every: 8, seed: 7 });
warmUp(body(60, 240));
const rows = [
  ...grown("nodes", [20, 60, 200, 600, 2000], "240 frames", (nodes) => body(nodes, 240)),
  ...grown("frames", [240, 1000, 4000, 16_000], "20 nodes", (frames) => body(20, frames)),
  ...grown("figures", [1, 2, 5, 10, 20], "20 nodes and 240 frames each", figures),
  ...grown("links of a chain with pops", [20, 60, 200, 600, 2000], "48 frames, a pop on every link", chain),
];
const cells = rows.map(({ of, size, rest, time, notes, exponent }) => [
  ...[of, rest, size.toLocaleString("en-US"), `${time.toFixed(time < 100 ? 1 : 0)} ms`, notes],
  exponent === null ? "" : exponent.toFixed(2),
]);
console.log(
  `Node ${process.version}, ${availableParallelism()} cores, load ${loadavg()[0].toFixed(1)}: processor time of a ` +
    `whole check, all ${registry.length} checks, median of ${rounds} after one that does not count, and three seconds of other checks before all. ` +
    "The exponent is that of the growth from the size above.\n",
);
console.log(table(["grows", "the rest", "size", "processor time", "notes", "exponent"], cells));
console.log(
  `\n${table(["links of a glTF chain", "read", "exponent"], await gltfReader([2000, 6000, 20_000], rounds))}`,
);

/** Lets the engine compile what checks run: three seconds of processor time. */
function warmUp(document) {
  const { shot } = readShot(JSON.stringify(document));
  const start = process.cpuUsage();
  while (process.cpuUsage(start).user < 3e6) notesOf(studyOf(shot, settings));
}

function grown(of, sizes, rest, make) {
  const found = [];
  for (const size of sizes) {
    const before = found.at(-1);
    if (before !== undefined && before.time > 1000 * patience) break;
    const { shot } = readShot(JSON.stringify(make(size)));
    let notes = 0;
    const times = [];
    for (let round = 0; round <= rounds; round++) {
      const start = process.cpuUsage();
      notes = notesOf(studyOf(shot, settings)).length;
      const { user, system } = process.cpuUsage(start);
      if (round > 0) times.push((user + system) / 1000);
    }
    const time = median(times);
    const exponent =
      before === undefined ? null : Math.log(time / before.time) / Math.log(size / before.size);
    found.push({ of, size, rest, time, notes, exponent });
  }
  return found;
}

/** Several figures side by side. */
function figures(count) {
  const document = { ...body(20, 240), nodes: [], curves: [], figures: [] };
  for (let figure = 0; figure < count; figure++) {
    const named = (id) => `f${figure}_${id}`;
    const one = skeletonDocument({ count: 20, frames: 240, every: 8, seed: 7 + figure });
    for (const { parent, ...node } of one.nodes) {
      const [x, y, z] = node.translation;
      const translation = parent === undefined ? [x + 150 * figure, y, z] : node.translation;
      const above = parent === undefined ? {} : { parent: named(parent) };
      document.nodes.push({ ...node, id: named(node.id), ...above, translation });
    }
    for (const curve of one.curves) document.curves.push({ ...curve, node: named(curve.node) });
    document.figures.push({ id: `f${figure}`, root: named("hips") });
  }
  return document;
}

/** A chain whose links sway, each with a pop of its own. */
function chain(links) {
  const nodes = Array.from({ length: links }, (_, i) => ({
    id: `link_${i}`,
    ...(i === 0 ? {} : { parent: `link_${i - 1}` }),
    translation: [0, 8, 0],
  }));
  const curves = nodes.map(({ id }, i) => ({
    node: id,
    channel: "rotation.x",
    keys: Array.from({ length: 48 }, (_, frame) => [
      frame + 1,
      5 * Math.sin(i + 0.2 * frame) + (frame === 6 + ((7 * i) % 36) ? 25 : 0),
    ]),
  }));
  return { ...body(1, 48), nodes, curves };
}
