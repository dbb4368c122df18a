// Speed of posing and checking against general libraries in the same run: `npm run bench`.
import { defaultSettings, findingsOf, notesOf, readShot, registry, rigOf, Study, subjectCount, worldOf } from "@keyside/core";
import * as THREE from "three";
import { median, ms, paired, table, timed } from "./measure.mjs";
import { skeletonDocument } from "./skeleton.mjs";

const settings = defaultSettings(registry);
const dense = skeletonDocument({ count: 100, frames: 240, every: 1, seed: 11 });
const text = JSON.stringify(dense);
const { shot } = readShot(text);
const three = threeSkeleton(dense);

const rows = [];
const pose = paired(() => poseAll(shot), () => three.poseAll());
rows.push(["pose 100 nodes × 240 frames", "three: the same skeleton", ms(pose.a), ms(pose.b), pose.ratio.toFixed(2)]);
const checks = paired(() => notesOf(new Study(shot, settings)), () => three.poseAll());
rows.push(["all checks, 100 nodes × 240 frames", "three: posing alone", ms(checks.a), ms(checks.b), checks.ratio.toFixed(2)]);
const whole = paired(() => notesOf(new Study(readShot(text).shot, settings)), () => JSON.parse(text));
rows.push([`file to notes, ${(text.length / 1e6).toFixed(1)} MB, ${keyCount(shot)} keys`, "JSON.parse of the same text", ms(whole.a), ms(whole.b), whole.ratio.toFixed(2)]);
const reading = paired(() => readShot(text), () => JSON.parse(text));
rows.push(["reading alone, the same file", "JSON.parse of the same text", ms(reading.a), ms(reading.b), reading.ratio.toFixed(2)]);

console.log(`Node ${process.version}, medians of 15 paired runs after 5 warm-up runs\n`);
console.log(table(["what", "against", "Keyside", "peer", "ratio"], rows));
console.log(`\nPer check on the same shot, poses and shared measures ready (median of 9):\n`);
console.log(table(["check", "time"], perCheck()));

function keyCount(of) {
  return of.curves.reduce((sum, curve) => sum + curve.frames.length, 0);
}

function poseAll(of) {
  const study = new Study(of, settings);
  const { count } = rigOf(study);
  let sum = 0;
  for (let node = 0; node < count; node++) sum += worldOf(study, node).position[0];
  return sum;
}

/** What each check costs once all that it shares with the others has been computed. */
function perCheck() {
  const times = new Map(registry.map((check) => [check.name, []]));
  for (let round = 0; round < 9; round++) {
    const warm = new Study(shot, settings);
    notesOf(warm);
    for (const check of registry) {
      const again = { ...check };
      times.get(check.name).push(
        timed(() => {
          for (let subject = 0; subject < subjectCount(warm, again); subject++) findingsOf(warm, again, subject);
        }),
      );
    }
  }
  return [...times].map(([name, list]) => [name, median(list)]).sort((a, b) => b[1] - a[1]).map(([name, time]) => [name, ms(time)]);
}

/** The same skeleton in a general 3D library: rotations set from sampled channels, world matrices updated per frame. */
function threeSkeleton(document) {
  const objects = new Map();
  const roots = [];
  for (const node of document.nodes) {
    const object = new THREE.Object3D();
    object.position.set(...node.offset);
    object.rotation.order = "ZXY";
    objects.set(node.id, object);
    if (node.parent === undefined) roots.push(object);
    else objects.get(node.parent).add(object);
  }
  const radians = Math.PI / 180;
  const tracks = document.curves.map(({ node, channel, keys }) => {
    const object = objects.get(node);
    const [kind, axis] = channel.split(".");
    const target = kind === "translate" ? object.position : object.rotation;
    const factor = kind === "translate" ? 1 : radians;
    return { target, axis, values: keys.map(([, value]) => value * factor) };
  });
  const positions = new Float64Array(3 * document.nodes.length);
  return {
    poseAll() {
      let sum = 0;
      for (let frame = 0; frame < 240; frame++) {
        for (const { target, axis, values } of tracks) target[axis] = values[frame];
        for (const root of roots) root.updateMatrixWorld(true);
        let at = 0;
        for (const object of objects.values()) {
          const { elements } = object.matrixWorld;
          positions[at++] = elements[12];
          positions[at++] = elements[13];
          positions[at++] = elements[14];
        }
        sum += positions[0];
      }
      return sum;
    },
  };
}
