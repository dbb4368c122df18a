// @ts-check
/**
 * A scene, judged, and held against what its supervisor would note. It asks the program as any script does.
 * @import { Note, Shot } from "@keyside/core"
 * @import { Flaw, Half, Scene, SceneRecord } from "./scenes.d.ts"
 */
import { defaultSettings, notesOf, readShot, registry, studyOf } from "@keyside/core";
import { assigned } from "../shots/scores/said.mjs";
import { checksOf } from "./kinds.mjs";

/** Frames by which a note may reach beyond its flaw on either side; a supervisor's frames are round. */
const beyond = 6;
const settings = defaultSettings(registry);

/** @param {Scene} scene @param {Half} half @returns {SceneRecord} */
export function judgedScene(scene, half) {
  const [clean, flawed] = [readDocument(scene.name, scene.clean()), readDocument(scene.name, scene.flawed())];
  const [wrong, notes] = [notesOf(studyOf(clean, settings)), notesOf(studyOf(flawed, settings))];
  const fresh = notes.filter((note) => !wrong.some((old) => isSame(old, note)));
  const saying = scene.flaws.map((flaw) => {
    const near = nodesBeside(flawed, flaw.nodes);
    return fresh.filter((note) => says(note, flaw, near));
  });
  const given = assigned(/** @type {any} */ (saying));
  const first = scene.flaws.reduce((best, flaw, i) => (flaw.order < scene.flaws[best].order ? i : best), 0);
  const firstNote = saying[first]?.[0];
  return {
    name: scene.name,
    half,
    frames: clean.range[1] - clean.range[0] + 1,
    flaws: scene.flaws.map(({ kind, size }, i) => ({ kind, size, isSaid: given[i] !== null })),
    majors: wrong.filter(({ tier }) => tier === "major").length,
    notes: wrong.length,
    firstSaidBy: firstNote === undefined ? null : notes.indexOf(firstNote),
    missed: scene.flaws.flatMap((flaw, i) =>
      given[i] === null
        ? missed(scene.name, flaw, fresh, nodesBeside(flawed, flaw.nodes), saying[i].length > 0)
        : [],
    ),
    late: late(scene, scene.flaws[first], firstNote, notes),
    wrong: wrong.map((note) => `false  ${scene.name}: ${line(note)}`),
  };
}

/** @param {string} name @param {object} document @returns {Shot} */
function readDocument(name, document) {
  const { shot, problems } = readShot(JSON.stringify(document));
  const [problem] = problems;
  if (shot === null || problem !== undefined)
    throw new Error(`The scene "${name}" is no sound document: ${problem?.path}: ${problem?.message}`);
  return shot;
}

/**
 * Whether a note, or what it lists as told with it, says a flaw: its check may, its node is one of the flaw's or beside it,
 * and their frames meet.
 * @param {Note} note @param {Flaw} flaw @param {ReadonlySet<string>} near
 */
function says(note, { kind, frames: [from, to] }, near) {
  const checks = checksOf(kind);
  return [note, ...(note.also ?? [])].some(
    ({ check, node, seenAt, frames }) =>
      checks.includes(check) &&
      [node, ...seenAt].some((one) => one !== null && near.has(one)) &&
      frames[0] <= to + beyond &&
      frames[1] >= from - beyond,
  );
}

/** The flaw's nodes, their parents and their children. @param {Shot} shot @param {readonly string[]} nodes */
function nodesBeside({ header: { nodes: all } }, nodes) {
  const near = new Set(nodes);
  for (const { id, parent } of all) {
    if (parent === undefined || parent === null) continue;
    if (nodes.includes(id)) near.add(parent);
    if (nodes.includes(parent)) near.add(id);
  }
  return near;
}

/** Whether two notes say the same of the same. @param {Note} a @param {Note} b */
function isSame(a, b) {
  return a.check === b.check && a.node === b.node && a.frames[0] <= b.frames[1] && b.frames[0] <= a.frames[1];
}

/**
 * @param {string} name @param {Flaw} flaw @param {readonly Note[]} notes
 * @param {ReadonlySet<string>} near @param {boolean} isShared
 */
function missed(name, { what, kind, size, nodes, frames: [from, to] }, notes, near, isShared) {
  const around = notes.filter(
    ({ node, seenAt, frames }) =>
      frames[0] <= to + beyond &&
      frames[1] >= from - beyond &&
      [node, ...seenAt].some((one) => one !== null && near.has(one)),
  );
  const shared = isShared ? "; its note says another flaw" : "";
  return [
    `missed ${name}: ${size} ${kind}, ${nodes.join(", ")} ${from}–${to}${shared}: ${what}`,
    ...around.map((note) => `         near: ${line(note)}`),
  ];
}

/**
 * What stands before the note that says the supervisor's first, where that is none of the first two.
 * @param {Scene} scene @param {Flaw} first @param {Note | undefined} saying @param {readonly Note[]} notes
 */
function late({ name }, { kind, size, what }, saying, notes) {
  const place = saying === undefined ? 0 : notes.indexOf(saying);
  if (place < 2) return [];
  return [
    `late ${name}: ${size} ${kind}, said by #${place + 1}: ${what}`,
    ...notes.slice(0, place + 1).map((note, i) => `         #${i + 1} ${line(note)}`),
  ];
}

/** @param {Note} note */
function line({ tier, check, node, frames, message }) {
  return `${tier} ${check} ${node} ${frames[0]}–${frames[1]}: ${message.slice(0, 170)}`;
}
