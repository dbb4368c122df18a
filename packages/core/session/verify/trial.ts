import { referenceRate } from "../../base/constants.ts";
import { angleBetween } from "../../base/quaternion.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { checkIn } from "../../expressions/checks.ts";
import type { Note } from "../../faults/note.ts";
import { groundOf } from "../../motion/ground/contact.ts";
import { gripsOf } from "../../motion/parts/grips.ts";
import { leadFrames } from "../../notes/motion-elsewhere.ts";
import { figuresOf } from "../../rig/body.ts";
import { localRotationOf, localTranslationOf, worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import type { World } from "../../rig/world.ts";
import { settingsOf } from "../../settings/study.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import type { KeyChange } from "../changes.ts";
import { isSlide, type Made, type Motion } from "./law.ts";
import { soleRestsOf } from "./soles.ts";
import { ownRest, stancesOf } from "./stances.ts";

/** What differs by less is the same to the last digit that is written: metres, radians. */
const sameMetres = 1e-4;
const sameAngle = 1e-3;
/** Along the ground a leg that is solved anew may be off by the half millimetre within which keys follow a course. */
const sameWay = 5e-4;

/** Weight is shifted over twelve frames; keys that move, or go, take the segments beside them along. */
const longLeadFrames = 12;

/** The motion of the shot that stands in a study. */
export function motionOf(study: Study): Motion {
  const locals = rigOf(study).ids.map((_, node) => ({
    shift: localTranslationOf(study, node),
    turn: localRotationOf(study, node),
  }));
  return {
    worlds: worldsOf(study),
    stances: stancesOf(study),
    soles: soleRestsOf(study),
    grips: gripsOf(study),
    local: (node) => locals[node],
  };
}

function worldsOf(study: Study): World[] {
  return rigOf(study).ids.map((_, node) => worldOf(study, node));
}

/** A change of keys that was made in a study, as the laws see it. */
export function madeOf(study: Study, before: Motion, note: Note, changes: readonly KeyChange[]): Made {
  const grid = gridOf(study);
  const after = worldsOf(study);
  const moved: number[] = [];
  for (let node = 0; node < after.length; node++) if (after[node] !== before.worlds[node]) moved.push(node);
  const family = checkIn(settingsOf(study), note.check)?.family;
  const isLong = isSlide(changes) || family === "weight" || family === "data";
  const shortLead = Math.round((leadFrames * grid.rate) / referenceRate);
  const lead = isLong ? Math.max(shortLead, longLeadFrames) : shortLead;
  // Of a note on the curve itself the keys that it names are what is wrong.
  const named = family === "data" ? note.keys.map(({ frame }) => frame) : [];
  const first = sampleAt(grid, Math.min(note.frames[0], ...named));
  const last = sampleAt(grid, Math.max(note.frames[1], ...named));
  const figure = figuresOf(study).findIndex(({ id }) => id === note.figure);
  // What a foot stands on it stands on until it leaves: the swing beside its rest makes up the way.
  const rest = ownRest(study, note, figure, before);
  return {
    study,
    note,
    figure,
    changes,
    before,
    after,
    moved,
    from: Math.min(first, rest?.from ?? first) - lead,
    to: Math.max(last, rest?.to ?? last) + lead,
  };
}

/** Frames (at 24 per second) beside a note at which its measures look as well: a move and its eases (our choice). */
const lookedAtBeside = 24;

/**
 * Whether all that a note is about, over its frames, is where it was before a change. What slides over the ground is where
 * it was along it: a foot that is brought down slid as much when nothing was under it.
 */
export function isOfOldMotion(
  { study, before, after }: Made,
  { check, node, seenAt, keys, frames }: Note,
): boolean {
  const { indexOf } = rigOf(study);
  const grid = gridOf(study);
  const beside = Math.round((lookedAtBeside * grid.rate) / referenceRate);
  const from = Math.max(0, sampleAt(grid, frames[0]) - beside);
  const to = Math.min(grid.count - 1, sampleAt(grid, frames[1]) + beside);
  const own = node === null ? [] : [node];
  const isSlide = check === "contact-slide";
  const ids = new Set(isSlide ? own : [...own, ...seenAt, ...keys.map((key) => key.node)]);
  const nodes = [...ids].flatMap((id) => indexOf.get(id) ?? []);
  const alongGround = isSlide ? groundOf(study).normal : null;
  return (
    nodes.length > 0 &&
    nodes.every((one) => isSameWorld(before.worlds[one], after[one], from, to, alongGround))
  );
}

/** @param along normal of the surface along which alone places are compared; null where all counts */
function isSameWorld(
  a: World,
  b: World,
  from: number,
  to: number,
  along: readonly [number, number, number] | null,
): boolean {
  if (a === b) return true;
  if (along !== null) {
    const [nx, ny, nz] = along;
    for (let k = 3 * from; k < 3 * to + 3; k += 3) {
      const v = [0, 1, 2].map((axis) => b.position[k + axis] - a.position[k + axis]);
      const out = v[0] * nx + v[1] * ny + v[2] * nz;
      if (lengthOf(v[0] - out * nx, v[1] - out * ny, v[2] - out * nz) > sameWay) return false;
    }
    return true;
  }
  for (let k = 3 * from; k < 3 * to + 3; k++)
    if (Math.abs(a.position[k] - b.position[k]) > sameMetres) return false;
  for (let i = from; i <= to; i++) {
    if (angleBetween(a.orientation, 4 * i, b.orientation, 4 * i) > sameAngle) return false;
  }
  return true;
}
