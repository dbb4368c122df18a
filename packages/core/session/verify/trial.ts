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
 * Within a note that tells of half a second and more (12 frames at 24 per second) so many frames may move otherwise, as a
 * share of its own: what is there in all the others is not of a change's making. A slip of a few frames hides what a whole move
 * is like (our choice).
 */
const leastStretch = 12;
const touchedShare = 1 / 3;

/**
 * Whether all that a note is about, over its frames, is where it was before a change, or nearly all of a long stretch. What
 * slides over the ground is where it was along it: a foot that is brought down slid as much when nothing was under it.
 */
export function isOfOldMotion(
  made: Made,
  note: Pick<Note, "check" | "node" | "seenAt" | "keys" | "frames">,
): boolean {
  const { study, before, after } = made;
  const { check, node, seenAt, keys, frames } = note;
  const { indexOf } = rigOf(study);
  const grid = gridOf(study);
  const scale = grid.rate / referenceRate;
  const beside = Math.round(lookedAtBeside * scale);
  const [first, last] = frames.map((frame) => sampleAt(grid, frame));
  const from = Math.max(0, first - beside);
  const to = Math.min(grid.count - 1, last + beside);
  const own = node === null ? [] : [node];
  const isSlide = check === "contact-slide";
  const ids = new Set(isSlide ? own : [...own, ...seenAt, ...keys.map((key) => key.node)]);
  const nodes = [...ids].flatMap((id) => indexOf.get(id) ?? []);
  if (nodes.length === 0) return false;
  const alongGround = isSlide ? groundOf(study).normal : null;
  const isSame = (i: number) =>
    nodes.every((one) => isSameAt(before.worlds[one], after[one], i, alongGround));
  const length = last - first + 1;
  const most = isSlide || length < leastStretch * scale ? 0 : touchedShare * length;
  let touched = 0;
  for (let i = from; i <= to; i++) {
    if (isSame(i)) continue;
    // What changes at either end of a stretch, or beside it, may have made it what it is.
    if (i <= first || i >= last || ++touched > most) return false;
  }
  return true;
}

/** @param along normal of the surface along which alone places are compared; null where all counts */
function isSameAt(a: World, b: World, i: number, along: readonly [number, number, number] | null): boolean {
  if (a === b) return true;
  const v = [0, 1, 2].map((axis) => b.position[3 * i + axis] - a.position[3 * i + axis]);
  if (along !== null) {
    const [nx, ny, nz] = along;
    const out = v[0] * nx + v[1] * ny + v[2] * nz;
    return lengthOf(v[0] - out * nx, v[1] - out * ny, v[2] - out * nz) <= sameWay;
  }
  return (
    v.every((way) => Math.abs(way) <= sameMetres) &&
    angleBetween(a.orientation, 4 * i, b.orientation, 4 * i) <= sameAngle
  );
}
