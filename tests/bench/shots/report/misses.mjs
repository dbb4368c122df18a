// @ts-check
/**
 * Cases to look at: faults that were not said, and notes on clean twins, each as a picture and a text.
 * @import { FaultRecord, PlainNote, Results, ShotRecord } from "../scores/records.d.ts"
 * @import { PlantedShot } from "../planting/planting.d.ts"
 */
import { mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { randomOf } from "../random.mjs";
import { program } from "../scores/program.mjs";
import { plantedShot } from "../shots.mjs";
import { picture } from "./picture.mjs";

/** Of the cases that are drawn, about this share are faults that were missed; the rest are false notes. */
const missedShare = 2 / 3;
/** Names of files that an earlier run has drawn; they make room. */
const drawn = /^\d{3}-(missed|false)-.*\.(svg|txt)$/;
const strengths = ["barely seen", "ordinary", "strong"];

/** @typedef {{ shot: ShotRecord, fault: FaultRecord } | { shot: ShotRecord, note: PlainNote }} Case */

/**
 * Draws cases by lot; the same for the same results.
 * @param {Pick<Results, "seed" | "shots">} results @param {number} count
 * @returns {Case[]}
 */
export function casesOf({ seed, shots }, count) {
  const random = randomOf(`${seed}/misses`);
  const missed = shots.flatMap((shot) =>
    shot.faults.filter(({ said }) => !said).map((fault) => ({ shot, fault })),
  );
  const wrong = shots.flatMap((shot) => shot.twin.map((note) => ({ shot, note })));
  const [first, second] = [random.shuffled(missed), random.shuffled(wrong)];
  const share = Math.max(Math.ceil(missedShare * count), count - second.length);
  const faults = first.slice(0, share);
  return [...faults, ...second.slice(0, count - faults.length)];
}

/**
 * @param {Results} results @param {number} count @param {string} folder
 * @returns {number} how many were drawn
 */
export function drawMisses(results, count, folder) {
  mkdirSync(folder, { recursive: true });
  for (const old of readdirSync(folder).filter((name) => drawn.test(name))) rmSync(`${folder}/${old}`);
  const asked = program();
  /** @type {Map<number, PlantedShot>} */
  const planted = new Map();
  const cases = casesOf(results, count);
  cases.forEach((one, i) => {
    const { index } = one.shot;
    const shot = planted.get(index) ?? plantedShot(results.seed, index);
    planted.set(index, shot);
    const { name, svg, text } = "fault" in one ? missed(one, shot, asked) : wrong(one, shot);
    const file = `${folder}/${String(i + 1).padStart(3, "0")}-${name.replaceAll(" ", "-")}`;
    writeFileSync(`${file}.svg`, svg);
    writeFileSync(`${file}.txt`, text);
  });
  return cases.length;
}

/** @param {{ shot: ShotRecord, fault: FaultRecord }} one @param {PlantedShot} planted @param {ReturnType<typeof program>} asked */
function missed({ shot, fault }, { full, twin }, asked) {
  const { kind, strength, size, unit, measured, figure, joint, from, to, nearby, sharesNote, checks } = fault;
  const title = `missed: ${kind} (${strengths[strength]}, ${plain(size)} ${unit}) at ${joint}, frames ${from} to ${to}, ${shot.name}`;
  const node = full.nodeOf.get(joint) ?? joint;
  const frame = Math.round((from + to) / 2);
  const why = checks.flatMap((check) => {
    const lines = asked.whySilent(asked.read(full.text), { check, node, frame });
    return [`${check}:`, ...lines.map((line) => `  ${line}`)];
  });
  const text = [
    title,
    `figure ${figure}, node ${node} in the document; shot ${shot.index} (${shot.body}, ${shot.stage}, a key every ${shot.spacing} frames)`,
    `planted with size ${plain(size)} ${unit}; its own measure gives ${plain(measured)}`,
    `notes of these checks would say it: ${checks.join(", ") || "none there is"}`,
    sharesNote ? "a note lies here, which says another fault" : "",
    "",
    "said nearby:",
    ...listed(nearby),
    "",
    "why silent:",
    ...(why.length === 0 ? ["  no check is meant to say it"] : why),
    "",
  ];
  const svg = picture({ title, poses: full.poses, twin: twin.poses, figure, joint, from, to });
  return { name: `missed-${kind}`, svg, text: text.join("\n") };
}

/** @param {{ shot: ShotRecord, note: PlainNote }} one @param {PlantedShot} planted */
function wrong({ shot, note }, { twin }) {
  const { check, tier, from, to, message } = note;
  const { figures } = twin.poses.performance;
  const joints = [note.joint, note.seenAt].filter((id) => id !== null);
  const owner = figures.find(({ body }) => body.joints.some(({ id }) => joints.includes(id))) ?? figures[0];
  const joint = joints.find((id) => owner.body.joints.some((one) => one.id === id)) ?? owner.body.root;
  const title = `false: ${check} (${tier}) at ${joint}, frames ${from} to ${to}, ${shot.name}`;
  const text = [
    title,
    `figure ${owner.id}; shot ${shot.index} (${shot.body}, ${shot.stage}, a key every ${shot.spacing} frames)`,
    message,
    "",
  ];
  const svg = picture({ title, poses: twin.poses, twin: null, figure: owner.id, joint, from, to });
  return { name: `false-${check}`, svg, text: text.join("\n") };
}

/** @param {readonly PlainNote[]} notes */
function listed(notes) {
  if (notes.length === 0) return ["  nothing"];
  return notes.map(
    ({ check, tier, joint, from, to, message }) =>
      `  ${tier} ${check}, ${joint}, frames ${from} to ${to}: ${message}`,
  );
}

/** @param {number} value */
const plain = (value) => Number(value.toPrecision(3)).toString();
