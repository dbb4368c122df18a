// @ts-check
/**
 * What the pages show of a checked shot.
 * @typedef {object} Look
 * @property {string} title
 * @property {string} facts one line: rate, frames, figures
 * @property {Float64Array} frames numbers of the judged frames
 * @property {string} rootName
 * @property {Float64Array} root place of the figure's root, three numbers per frame, metres
 * @property {Float64Array} height of the root, metres
 * @property {Float64Array} speed of the root, metres per second
 * @property {[Float64Array, Float64Array][]} bones ends of the figure's bones, three numbers per frame, metres
 * @property {number} stature metres
 * @property {number[]} grounds heights of level surfaces, metres
 * @property {readonly import("@keyside/core").Note[]} notes biggest first
 * @property {Map<string, string>} status by fingerprint: what became of a note since the version before
 * @property {readonly string[]} workedOut
 * @property {readonly string[]} cautions
 */
import {
  defaultSettings,
  figuresOf,
  gridOf,
  groundOf,
  notesOf,
  registry,
  rigOf,
  Study,
  speedOf,
  statureOf,
  surfacesOf,
  workedOutOf,
  worldOf,
} from "@keyside/core";
import { cautionsFor } from "@keyside/server";

/**
 * Checks a loaded shot and gathers what its page shows.
 * @param {import("@keyside/server").LoadedShot} loaded
 * @param {string} title
 * @returns {Look}
 */
export function lookAt(loaded, title) {
  const study = new Study(loaded.shot, defaultSettings(registry));
  const rig = rigOf(study);
  const figures = figuresOf(study);
  const main = Math.max(0, largest(figures.map((figure) => figure.nodes.length)));
  const figure = figures[main];
  const root = figure?.parts.get("root")?.[0] ?? figure?.root ?? 0;
  const { frames, rate } = gridOf(study);
  const placeOf = (/** @type {number} */ node) => worldOf(study, node).position;
  const place = placeOf(root);
  const bones = (figure?.nodes ?? [])
    .filter((node) => rig.parent[node] >= 0 && figure?.nodes.includes(rig.parent[node]))
    .map((node) => /** @type {[Float64Array, Float64Array]} */ ([placeOf(rig.parent[node]), placeOf(node)]));
  const notes = notesOf(study);
  const judged = `${Math.round(rate * 1000) / 1000} frames per second`;
  const span = `frames ${frames[0]} to ${Math.round(frames[frames.length - 1] * 100) / 100}`;
  const who = figures.map(({ id, kind }) => (kind === "other" ? id : `${id} (${kind})`)).join(", ");
  const level = [groundOf(study), ...surfacesOf(study)].filter(({ normal }) => normal[1] > 0.99);
  const heard = registry.filter(({ name }) => notes.some((note) => note.check === name));
  return {
    title,
    facts: `${judged}, ${span}; figures: ${who}; ${notes.length === 1 ? "1 note" : `${notes.length} notes`}`,
    frames,
    rootName: rig.ids[root],
    root: place,
    height: Float64Array.from(frames, (_, i) => place[3 * i + 1]),
    speed: speedOf(study, root),
    bones,
    stature: figure === undefined ? 1 : statureOf(study, main),
    grounds: [...new Set(level.map(({ height }) => Math.round(height * 1000) / 1000))],
    notes,
    status: new Map(),
    workedOut: workedOutOf(study),
    cautions: cautionsFor(heard),
  };
}

/** @param {number[]} sizes */
const largest = (sizes) => sizes.indexOf(Math.max(...sizes));
