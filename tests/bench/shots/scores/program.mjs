// @ts-check
/**
 * The only place of the bench that asks the program, and it does so as any script does: through the public API.
 * @import { Curve, Note, ProvenFix, Shot } from "@keyside/core"
 * @import { Interpolation, Key } from "../types.d.ts"
 * @import { DocumentCurve, Fix, Program } from "./records.d.ts"
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { readBvh } from "@keyside/adapters";
import {
  defaultSettings,
  editShot,
  FixSession,
  interpolations,
  notesOf,
  readShot,
  registry,
  resolveSettings,
  studyOf,
  whySilent,
} from "@keyside/core";

/** The names of all checks, in the program's order. */
export const checkNames = registry.map(({ name }) => name);

/**
 * @param {readonly string[]} silenced checks that are turned off
 * @returns {Program}
 */
export function program(silenced = []) {
  const settings =
    silenced.length === 0 ? defaultSettings(registry) : resolveSettings(registry, {}, { skip: silenced });
  return {
    read,
    notes: (shot) => notesOf(studyOf(shot, settings)),
    fixer: (shot) => {
      const session = new FixSession(shot, settings);
      return (note) => {
        const proven = session.prove(note);
        return proven === null || proven.kind === "sketch"
          ? null
          : fixOf(proven, editShot(shot, proven.edits));
      };
    },
    whySilent: (shot, place) => whySilent(studyOf(shot, settings), place),
  };
}

/**
 * The notes of a shot, and the fix of each as the program tells it, with what it says against what it refused.
 * @param {Shot} shot
 */
export function proverOf(shot) {
  const settings = defaultSettings(registry);
  const session = new FixSession(shot, settings);
  return {
    notes: notesOf(studyOf(shot, settings)),
    prove: (/** @type {Note} */ note) => session.prove(note),
    whyNot: (/** @type {Note} */ note) => session.whyNot(note),
    edited: (/** @type {ProvenFix} */ { edits }) => editShot(shot, edits),
  };
}

/** A key that is put close to another leaves handles that are longer than their segment; every reader shortens them. */
const heldHandle = "handle-length";

/** @param {string} text @returns {Shot} */
function read(text) {
  const { shot, problems } = readShot(text);
  const grave = problems.filter(({ code }) => code !== heldHandle);
  if (shot === null || grave.length > 0) {
    const [{ message, path }] = grave;
    throw new Error(`A shot of the bench is no sound document: ${path}: ${message}`);
  }
  return shot;
}

/** @param {ProvenFix} fix @param {Shot} shot @returns {Fix} */
function fixOf({ fix, kind, moves, changes }, shot) {
  const added = changes.filter(({ before }) => before === null).length;
  return {
    name: fix,
    sketch: kind === "sketch",
    curves: shot.curves.map(plainCurve),
    changed: changes.length - added,
    added,
    moves: moves.length,
  };
}

/** A curve as lists, as its document has it. @param {Curve} curve @returns {DocumentCurve} */
export function plainCurve({ node, channel, interpolation, width, frames, values, modes, handles }) {
  if (width !== 1) throw new Error(`${node} ${channel}: the bench writes no curves of four numbers.`);
  const keys = Array.from(frames, (frame, i) => {
    const mode = interpolations[modes[i]];
    /** @type {Key} */
    const key = { frame, value: values[i], interpolation: /** @type {Interpolation} */ (bezierFor(mode)) };
    const [inFrames, inValue, outFrames, outValue] = handles?.subarray(4 * i, 4 * i + 4) ?? [];
    // On a cubic segment a handle is a slope: a bezier handle of a third of the segment is the same curve.
    const before = i === 0 ? null : interpolations[modes[i - 1]];
    const inOf = before === "cubic" ? thirdOf(frames[i - 1] - frame, inValue) : [inFrames, inValue];
    const outOf = mode === "cubic" ? thirdOf(frames[i + 1] - frame, outValue) : [outFrames, outValue];
    if (inOf.every(Number.isFinite)) key.in = /** @type {[number, number]} */ (inOf);
    if (outOf.every(Number.isFinite)) key.out = /** @type {[number, number]} */ (outOf);
    return key;
  });
  return { node, channel, interpolation: /** @type {Interpolation} */ (bezierFor(interpolation)), keys };
}

/** @param {string} mode */
const bezierFor = (mode) => (mode === "cubic" ? "bezier" : mode);
/** @param {number} span @param {number} slope */
const thirdOf = (span, slope) => [span / 3, (slope * span) / 3];

/** Frames per second at which recordings are judged. */
const recordedAt = 24;
const fixtures = fileURLToPath(new URL("../../../fixtures/capture", import.meta.url));
/** Where Debian's package of test models puts recordings of the Carnegie Mellon database. */
const installed = "/usr/share/assimp/models/BVH";

/** @returns {{ name: string, shot: Shot, frames: number }[]} recordings, as many as are there */
export function captures() {
  return [fixtures, installed].flatMap((folder) =>
    (existsSync(folder) ? readdirSync(folder) : [])
      .filter((file) => file.endsWith(".bvh"))
      .sort()
      .map((file) => {
        const { shot } = readBvh(readFileSync(`${folder}/${file}`, "utf8"), { rate: recordedAt });
        if (shot === null) throw new Error(`${folder}/${file} cannot be read.`);
        return { name: file, shot, frames: shot.range[1] - shot.range[0] + 1 };
      }),
  );
}
