// @ts-check
/**
 * An invented review of three versions of the dancer's shot, from the first look to approval: puts the versions and
 * their review files into a folder. All is done with the library and the shots of the demo; nothing is drawn by hand.
 */
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import {
  addRemark,
  arrangeReview,
  decide,
  defaultSettings,
  emptyReview,
  gridOf,
  markRemark,
  notesOf,
  printReview,
  readShot,
  registry,
  reviewVersionOf,
  rigOf,
  sampleAt,
  studyOf,
  worldOf,
} from "@keyside/core";
import { cleanShot } from "../shots/make.mjs";

const shots = new URL("../shots/", import.meta.url);
const ada = (/** @type {number} */ day) => ({
  by: "Ada",
  date: `2031-04-${String(day).padStart(2, "0")}T09:30:00Z`,
});
const ben = (/** @type {number} */ day) => ({
  by: "Ben",
  date: `2031-04-${String(day).padStart(2, "0")}T11:00:00Z`,
});

/** Ids are by chance, but for a demo that says the same every time. */
const ids = {
  look: "dmh2kq7rwx4tzb",
  arc: "fvg8n3jpc6skdt",
  jump: "gkr5w9xqb2mhzf",
  plait: "hzt4c7dnv8jpks",
};

/**
 * Writes the versions and their reviews.
 * @param {string} folder a folder that is there
 * @returns {Promise<string[]>} the versions' files, the oldest first
 */
export async function makeReview(folder) {
  const texts = [
    await readFile(new URL("quay_0070_v1.curves.json", shots), "utf8"),
    await readFile(new URL("quay_0070_v2.curves.json", shots), "utf8"),
    cleanShot("quay_0070"),
  ];
  const files = texts.map((_, index) => `quay_0070_v${index + 1}.curves.json`);
  const studies = texts.map((text) => {
    const { shot } = readShot(text);
    if (shot === null) throw new Error("A shot of the demo cannot be read.");
    return studyOf(shot, defaultSettings(registry));
  });
  const versions = texts.map((text, index) => {
    const { shot } = readShot(text);
    if (shot === null) throw new Error("A shot of the demo cannot be read.");
    return reviewVersionOf(shot, files[index]);
  });
  const reviews = [
    firstLook(studies[0], studies[2], versions[0]),
    secondLook(versions[1]),
    approval(versions[2]),
  ];
  for (const [index, text] of texts.entries()) {
    const path = join(folder, /** @type {string} */ (files[index]));
    await writeFile(path, text);
    await writeFile(path.replace(".curves.json", ".review.json"), printReview(reviews[index]));
  }
  return files.map((file) => join(folder, file));
}

/**
 * The first version: what a supervisor says of it, and what is decided about the computed notes.
 * @param {any} study @param {any} wanted a study of the motion that the drawn line asks for @param {any} version
 */
function firstLook(study, wanted, version) {
  let review = emptyReview("quay_0070");
  const add = (/** @type {any} */ fields, /** @type {string} */ id) => {
    review = addRemark(review, { version, ...fields }, id).review;
  };
  add(
    {
      ...{ frames: [3, 16], figure: "hips", node: "head", part: "head", weight: "must", ...ada(2) },
      text: "The look comes with the turn. Let the eyes find the boat first, then turn.",
    },
    ids.look,
  );
  add(
    {
      ...{ frames: [22, 34], figure: "hips", node: "hand_r", part: "rightHand", weight: "should", ...ada(2) },
      text: "Lead the hand along this arc, not straight up.",
      strokes: [arcOf(wanted, "hand_r", [22, 34])],
    },
    ids.arc,
  );
  add(
    { frames: [60, 76], weight: "keep", text: "Lovely crouch before the jump; keep its timing.", ...ada(2) },
    ids.jump,
  );
  add(
    {
      ...{ figure: "hips", node: "hair_1", part: "hair", weight: "could", ...ben(2) },
      text: "The plait may fly over the shoulder at the landing.",
    },
    ids.plait,
  );
  const notes = notesOf(study);
  const about = (/** @type {string} */ check) => {
    const note = notes.find((one) => one.check === check);
    if (note === undefined) throw new Error(`There is no note of ${check}.`);
    const { node, frames, fingerprint } = note;
    return {
      check,
      ...(node === null ? {} : { node }),
      frames: /** @type {[number, number]} */ ([frames[0], frames[1]]),
      fingerprint,
      version,
    };
  };
  const hang = decide(review, {
    ...about("hang-time"),
    verdict: "kept",
    text: "The jump floats. Bring her down six frames sooner.",
    ...ada(2),
  });
  review = decide(hang.review, {
    ...about("lone-joint"),
    ...{
      verdict: /** @type {const} */ ("dropped"),
      reason: "She only glances back; the body is meant to stay.",
      ...ada(2),
    },
  }).review;
  return arrangeReview(review, [ids.look, hang.decision.id], ada(2));
}

/** The second version: what became of the remarks. @param {any} version */
function secondLook(version) {
  let review = emptyReview("quay_0070");
  review = markRemark(review, {
    of: ids.look,
    state: "still-open",
    text: "Better, still two frames late.",
    version,
    ...ada(9),
  }).review;
  return markRemark(review, { of: ids.plait, state: "done", version, ...ben(9) }).review;
}

/** The third version is approved. @param {any} version */
function approval(version) {
  let review = emptyReview("quay_0070");
  for (const of of [ids.look, ids.arc])
    review = markRemark(review, { of, state: "done", version, ...ada(16) }).review;
  return addRemark(
    review,
    { text: "Approved. The landing is a joy.", weight: "keep", version, ...ada(16) },
    "jwn6x2hvk9cqbr",
  ).review;
}

/**
 * A line along which a part is to go, as if it had been drawn over the picture from the side on which it shows.
 * @param {any} study @param {string} node @param {[number, number]} frames
 */
function arcOf(study, node, frames) {
  const { position } = worldOf(study, rigOf(study).indexOf.get(node) ?? 0);
  const at = (/** @type {number} */ frame) => {
    const i = 3 * sampleAt(gridOf(study), frame);
    return /** @type {[number, number, number]} */ (
      [0, 1, 2].map((k) => Math.round(position[i + k] * 1000) / 1000)
    );
  };
  const points = [];
  for (let frame = frames[0]; frame <= frames[1]; frame += 2) points.push(at(frame));
  const normal = /** @type {[number, number, number]} */ ([0, 0, 1]);
  return {
    frame: frames[0],
    frames,
    node,
    plane: { origin: at(frames[0]), normal },
    points,
    target: { node, frames },
  };
}
