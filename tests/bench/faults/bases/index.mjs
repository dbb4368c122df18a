/** The clean motions into which faults are put. */
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { readBvh } from "@keyside/adapters";
import { defaultSettings, notesOf, readShot, registry, shotOf, studyOf as studyOfShot } from "@keyside/core";
import { documentText } from "../../../../demo/motion/keys.mjs";
import { cleanShot } from "../../../../demo/shots/make.mjs";
import { coreCurve, densely, keyedOf, nameOf } from "../keyed.mjs";
import { crouch } from "./crouch.mjs";
import { climbingTurn, levelFlight } from "./flight.mjs";
import { gestures } from "./gestures.mjs";
import { jump } from "./jump.mjs";
import { pair } from "./pair.mjs";
import { sideSteps } from "./side-steps.mjs";
import { walk } from "./walk.mjs";

/**
 * A clean motion.
 * @typedef {object} Base
 * @property {string} name
 * @property {"keyed" | "dense" | "capture"} kind keyed at turning points, keyed on every frame, or captured
 * @property {object} shot as the core reads it
 * @property {Map<string, object>} curves by "node channel", as lists of keys
 * @property {string} [recording] file name of the recording that it is an extract of
 * @property {object | null} act for figures whose legs can be solved again: nodes, feet
 */

const settings = defaultSettings(registry);
const captures = new URL("../../../fixtures/capture/forward-jump.bvh", import.meta.url);
const recordings = "/usr/share/assimp/models/BVH";
/** Extracts of recordings by file, in judged frames at 24 per second. */
const extracts = [
  ["01_01.bvh", 1, 250],
  ["01_01.bvh", 251, 500],
  ["01_03.bvh", 1, 200],
  ["Boxing_Toes.bvh", 1, 140],
];

const makers = {
  walk: () => built(walk()),
  jump: () => built(jump()),
  crouch: () => built(crouch()),
  "gestures 7": () => built(gestures(7)),
  "gestures 19": () => built(gestures(19)),
  "gestures 31": () => built(gestures(31)),
  "gestures 44": () => built(gestures(44, { rate: "24000/1001" })),
  "side steps 2": () => built(sideSteps(2)),
  "side steps 7": () => built(sideSteps(7, { rate: 25 })),
  pair: () => built(pair()),
  "level flight": () => built(levelFlight()),
  "climbing turn": () => built(climbingTurn()),
  jetty_0040: () => read(cleanShot("jetty_0040")),
  steps_0110: () => read(cleanShot("steps_0110")),
  quay_0070: () => read(cleanShot("quay_0070")),
};

function built({ document: { shot, ...rest }, curves, act }) {
  const text = documentText({ ...rest, shot }, curves);
  return { ...read(text), act };
}

function read(text) {
  const { shot, problems } = readShot(text);
  if (shot === null || problems.length > 0) {
    throw new Error(`A base cannot be read: ${problems.map(({ message }) => message).join("; ")}`);
  }
  return { shot, act: null };
}

/** @returns {Base[]} procedural motions, each keyed at its turning points and keyed on every frame */
export function proceduralBases(names = Object.keys(makers)) {
  return names.flatMap((name) => {
    const { shot, act } = makers[name]();
    const curves = curvesOf(shot);
    const keyed = { name, kind: "keyed", shot, curves, act };
    const dense = new Map();
    for (const [id, curve] of curves) dense.set(id, densely(curve, ...shot.range));
    return [keyed, { name, kind: "dense", shot: shotWith(shot, [...dense.values()]), curves: dense, act }];
  });
}

/** @returns {Base[]} extracts of motion capture, as many as are installed */
export function captureBases() {
  const bases = [captured("forward jump", fileURLToPath(captures), 1, Number.POSITIVE_INFINITY)];
  for (const [file, from, to] of extracts) {
    const path = `${recordings}/${file}`;
    if (existsSync(path)) bases.push(captured(`${file} ${from}`, path, from, to, file));
  }
  return bases;
}

function captured(name, path, from, to, recording = undefined) {
  const { shot } = readBvh(readFileSync(path, "utf8"), { rate: 24 });
  if (shot === null) throw new Error(`${path} cannot be read.`);
  const last = Math.min(to, shot.range[1]);
  const cut = { ...shot, range: [from, last] };
  const curves = new Map(
    [...curvesOf(shot)].map(([id, curve]) => [
      id,
      { ...curve, keys: curve.keys.filter(({ frame }) => frame >= from && frame <= last) },
    ]),
  );
  return { name, kind: "capture", shot: shotWith(cut, [...curves.values()]), curves, recording, act: null };
}

function curvesOf(shot) {
  return new Map(
    shot.curves.filter(({ width }) => width === 1).map((curve) => [nameOf(curve), keyedOf(curve)]),
  );
}

/** A shot with some curves in place of its own, or beside them. */
export function shotWith(shot, changed) {
  const byName = new Map(changed.map((curve) => [nameOf(curve), coreCurve(curve)]));
  const curves = shot.curves.map((curve) => {
    const own = byName.get(nameOf(curve));
    byName.delete(nameOf(curve));
    return own ?? curve;
  });
  return { ...shot, curves: [...curves, ...byName.values()] };
}

export const studyOf = (shot) => studyOfShot(shot, settings);
export const notesIn = (shot) => notesOf(studyOf(shot));
export const framesOf = ({ shot }) => shot.range[1] - shot.range[0] + 1;
export { settings, shotOf };
