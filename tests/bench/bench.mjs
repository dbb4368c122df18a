// Speed of posing and checking against general libraries in the same run: `npm run bench`.
import { loadavg } from "node:os";
import {
  defaultSettings,
  findingsOf,
  notesOf,
  readShot,
  registry,
  rigOf,
  studyOf,
  subjectCount,
  worldOf,
} from "@keyside/core";
import { drawablesOf, drawSolids, lensOf, Raster, solidsOf, wholePicture } from "@keyside/core/internal";
import * as THREE from "three";
import { median, ms, paired, table, timed } from "./measure.mjs";
import { pairDocument, skeletonDocument } from "./skeleton.mjs";

const settings = defaultSettings(registry);
const dense = skeletonDocument({ count: 100, frames: 240, every: 1, seed: 11 });
const text = JSON.stringify(dense);
const { shot } = readShot(text);
const three = threeSkeleton(dense);

/** Runs that count, and those before them in which the engine compiles what it runs: a feed and an archive run go on. */
const rounds = 25;
const warmup = 40;
const rows = [];
const against = (what, peer, run, other) => {
  const { a, b, ratio } = paired(run, other, { rounds, warmup });
  rows.push([what, peer, ms(a), ms(b), ratio.toFixed(2)]);
};
const size = "100 nodes × 240 frames";
const check = () => notesOf(studyOf(shot, settings));
const firstPosing = timed(three.fromCurves);
const firstCheck = timed(check);
const found = check().length;
against(`pose ${size}`, "three, evaluating the same curves", () => poseAll(shot), three.fromCurves);
against(`pose ${size}`, "three, given the channels' values", () => poseAll(shot), three.fromValues);
against(`all checks, ${size}`, "three, evaluating the same curves, no checks", check, three.fromCurves);
against(`all checks, ${size}`, "three, given the channels' values, no checks", check, three.fromValues);
const file = `${(text.length / 1e6).toFixed(1)} MB, ${keyCount(shot)} keys`;
against(
  `file to notes, ${file}`,
  "JSON.parse of the same text",
  () => notesOf(studyOf(readShot(text).shot, settings)),
  () => JSON.parse(text),
);
against(
  `reading alone, ${file}`,
  "JSON.parse of the same text",
  () => readShot(text),
  () => JSON.parse(text),
);

const pair = readShot(JSON.stringify(pairDocument({ count: 50, frames: 240, every: 1, seed: 11 }))).shot;
const raster = new Raster(171, 96);
against(
  "drawing two figures with depth, 100 nodes × 240 frames",
  `all ${registry.length} checks on the same shot`,
  () => drawAll(pair),
  () => notesOf(studyOf(pair, settings)),
);

console.log(
  `Node ${process.version}, ${registry.length} checks, load ${loadavg()[0].toFixed(1)}, medians of ${rounds} paired runs after ${warmup} that do not count\n`,
);
console.log(table(["what", "against", "Keyside", "peer", "ratio"], rows));
console.log(
  `\nThe first run in a fresh process: all checks ${ms(firstCheck)}, three evaluating the same curves ${ms(firstPosing)}.`,
);
console.log(`\nThe shot gives ${found} notes; each costs the search for its causing keys.`);
console.log(`\nPer check on the same shot, poses and shared measures ready (median of 9):\n`);
console.log(table(["check", "time"], perCheck()));

function keyCount(of) {
  return of.curves.reduce((sum, curve) => sum + curve.frames.length, 0);
}

function poseAll(of) {
  const study = studyOf(of, settings);
  const { count } = rigOf(study);
  let sum = 0;
  for (let node = 0; node < count; node++) sum += worldOf(study, node).position[0];
  return sum;
}

/** Draws every frame through the shot's camera into one raster, poses worked out anew. */
function drawAll(of) {
  const study = studyOf(of, settings);
  const lens = lensOf(study);
  const drawables = drawablesOf(study, solidsOf(study));
  let covered = 0;
  for (let sample = 0; sample < lens.seen.length; sample++) {
    drawSolids(study, lens, drawables, sample, wholePicture(lens, sample, raster), raster);
    covered += raster.owner[raster.owner.length >> 1] + 1;
  }
  return covered;
}

/** What each check costs once all that it shares with the others has been computed. */
function perCheck() {
  const times = new Map(registry.map((check) => [check.name, []]));
  for (let round = 0; round < 9; round++) {
    const warm = studyOf(shot, settings);
    notesOf(warm);
    for (const check of registry) {
      const again = { ...check };
      times.get(check.name).push(
        timed(() => {
          for (let subject = 0; subject < subjectCount(warm, again); subject++)
            findingsOf(warm, again, subject);
        }),
      );
    }
  }
  return [...times]
    .map(([name, list]) => [name, median(list)])
    .sort((a, b) => b[1] - a[1])
    .map(([name, time]) => [name, ms(time)]);
}

/**
 * The same skeleton in a general 3D library, posed in two ways: by its own animation mixer from the same keys, and from
 * channel values that were sampled beforehand, which leaves it the matrices alone.
 */
function threeSkeleton(document) {
  const scene = new THREE.Object3D();
  const objects = new Map();
  for (const node of document.nodes) {
    const object = new THREE.Object3D();
    object.name = node.id;
    object.position.set(...node.translation);
    object.rotation.order = "ZXY";
    objects.set(node.id, object);
    (node.parent === undefined ? scene : objects.get(node.parent)).add(object);
  }
  const radians = Math.PI / 180;
  const { frameRate, range } = document.shot;
  const frames = range[1] - range[0] + 1;
  const tracks = document.curves.map(({ node, channel, keys }) => {
    const [kind, axis] = channel.split(".");
    const isTurn = kind === "rotation";
    const values = keys.map(([, value]) => (isTurn ? value * radians : value));
    const times = keys.map(([frame]) => (frame - range[0]) / frameRate);
    return new THREE.NumberKeyframeTrack(
      `${node}.${isTurn ? "rotation" : "position"}[${axis}]`,
      times,
      values,
    );
  });
  const mixer = new THREE.AnimationMixer(scene);
  mixer.clipAction(new THREE.AnimationClip("shot", frames / frameRate, tracks)).play();
  const ready = [...objects.values()].map((object) => {
    const of = (kind, axis) =>
      document.curves
        .find((c) => c.node === object.name && c.channel === `${kind}.${axis}`)
        ?.keys.map(([, v]) => v);
    const turn = ["x", "y", "z"].map((axis) => of("rotation", axis).map((v) => v * radians));
    const shift = ["x", "y", "z"].map((axis) => of("translation", axis));
    return { object, turn, shift: shift[0] === undefined ? null : shift };
  });
  const positions = new Float64Array(3 * objects.size);
  const read = () => {
    scene.updateMatrixWorld(true);
    let at = 0;
    for (const object of objects.values()) {
      const { elements } = object.matrixWorld;
      positions[at++] = elements[12];
      positions[at++] = elements[13];
      positions[at++] = elements[14];
    }
    return positions[0];
  };
  return {
    fromCurves() {
      let sum = 0;
      for (let frame = 0; frame < frames; frame++) {
        mixer.setTime(frame / frameRate);
        sum += read();
      }
      return sum;
    },
    fromValues() {
      let sum = 0;
      for (let frame = 0; frame < frames; frame++) {
        for (const { object, turn, shift } of ready) {
          object.rotation.set(turn[0][frame], turn[1][frame], turn[2][frame]);
          if (shift !== null) object.position.set(shift[0][frame], shift[1][frame], shift[2][frame]);
        }
        sum += read();
      }
      return sum;
    },
  };
}
