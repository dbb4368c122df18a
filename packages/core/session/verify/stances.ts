import { numbersInWords } from "../../base/number-words.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import type { Note } from "../../faults/note.ts";
import { contactsOf, steadyContactsOf } from "../../motion/ground/contact.ts";
import { restAround } from "../../motion/ground/rest-around.ts";
import { staysOf } from "../../motion/parts/stays.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import type { Law, Made, Motion, Stance } from "./law.ts";
import { passesThrough } from "./shifted.ts";

/** Further way of a point that stands, in body heights: half of what is seen of a foot that slides. */
export const slideShare = 0.005;

/** What stands, by contact, and ends of limbs that stay in the world while their body moves. */
export function stancesOf(study: Study): Stance[] {
  return figuresOf(study).flatMap((_, figure) => [
    ...touching(study, figure),
    ...staysOf(study, figure).map(({ node, from, to }) => staying(study, figure, node, from, to)),
  ]);
}

function touching(study: Study, figure: number): Stance[] {
  const seen = new Set<string>();
  return [...contactsOf(study, figure), ...steadyContactsOf(study, figure)].flatMap((contact) => {
    const { node, from, to, slides } = contact;
    const name = `${node} ${from} ${to}`;
    if (slides || to <= from || seen.has(name)) return [];
    seen.add(name);
    const way = wayOf(worldOf(study, node).position, from, to);
    return [{ node, figure, from, to, way, touches: true }];
  });
}

function staying(study: Study, figure: number, node: number, from: number, to: number): Stance {
  const way = wayOf(worldOf(study, node).position, from, to);
  return { node, figure, from, to, way, touches: false };
}

/** Checks whose fixes move what stands, or should. */
const ofStance: readonly string[] = ["off-ground", "through-ground", "contact-slide"];
/**
 * The stretch around a note of a foot in which the foot is slow: a fix that brings it down in the middle of its rest, or
 * lifts it there, would make a step of it; one that lets it stand elsewhere does so until it leaves.
 */
export function ownRest(
  study: Study,
  note: Note,
  figure: number,
  { worlds }: Pick<Motion, "worlds">,
): Stance | null {
  const node = rigOf(study).indexOf.get(note.node ?? "");
  if (node === undefined || figure < 0 || !ofStance.includes(note.check)) return null;
  const { position } = worlds[node];
  const grid = gridOf(study);
  const [first, last] = note.frames.map((frame) => sampleAt(grid, frame));
  const { from, to } = restAround(study, figure, position, { from: first, to: last });
  return { node, figure, from, to, way: wayOf(position, from, to), touches: true };
}

/** Whether a heel is one that a fix lets come off: the ball that it rolls over stays, or the front of the sole that is known. */
function rollsOn({ study, note, figure, before }: Made, node: number): boolean {
  if (note.check !== "flat-foot" || figure < 0) return false;
  const hasSole = before.soles.some(({ foot, points }) => foot === node && points.length > 1);
  return limbsOf(study, figure).some(({ end, ball }) => end === node && (ball >= 0 || hasSole));
}

/** Length of a point's way between two samples, metres. */
function wayOf(path: Float64Array, from: number, to: number): number {
  let way = 0;
  for (let i = 3 * from + 3; i <= 3 * to; i += 3) {
    way += lengthOf(path[i] - path[i - 3], path[i + 1] - path[i - 2], path[i + 2] - path[i - 1]);
  }
  return way;
}

/** What stands, or holds on to something, stays where it is; and what a note lets stand comes to rest once. */
export const keepsStances: Law = (made) => {
  const { study, before, after } = made;
  const own = ownRest(study, made.note, made.figure, before);
  let [worst, found]: [number, Stance | null] = [1, null];
  for (const stance of own === null ? before.stances : [...before.stances, own]) {
    const { node, from, to, way, figure } = stance;
    if (after[node] === before.worlds[node] || rollsOn(made, node)) continue;
    const more = (wayOf(after[node].position, from, to) - way) / (slideShare * statureOf(study, figure));
    if (!(more <= worst) && !passesThrough(made, node)) [worst, found] = [more, stance];
  }
  if (found === null) return null;
  const { node, from, to, touches, figure } = found;
  const { frames } = gridOf(study);
  const way = numbersInWords.length(worst * slideShare * statureOf(study, figure));
  const span = `over frames ${frames[from]} to ${frames[to]}`;
  return `the ${nodeNameOf(study, node)} would ${touches ? "slide" : "lose its hold"} by ${way} ${span}`;
};
