import { referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { checkIn } from "../../expressions/checks.ts";
import type { Note } from "../../faults/note.ts";
import { gripsOf } from "../../motion/parts/grips.ts";
import { leadFrames } from "../../notes/motion-elsewhere.ts";
import { figuresOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { localRotationOf, localTranslationOf, worldOf } from "../../rig/pose.ts";
import { rigOf, subtreeOf } from "../../rig/rig.ts";
import type { World } from "../../rig/world.ts";
import { settingsOf } from "../../settings/study.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import type { KeyChange } from "../changes.ts";
import { isSlide, type Made, type Motion } from "./law.ts";
import { stancesOf } from "./stances.ts";

/** Weight is shifted over half a second; keys that move, or go, take the segments beside them along. */
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
  const lead = Math.round(((isLong ? longLeadFrames : leadFrames) * grid.rate) / referenceRate);
  // Of a note on the curve itself the keys that it names are what is wrong.
  const named = family === "data" ? note.keys.map(({ frame }) => frame) : [];
  const first = sampleAt(grid, Math.min(note.frames[0], ...named));
  const last = sampleAt(grid, Math.max(note.frames[1], ...named));
  const figure = figuresOf(study).findIndex(({ id }) => id === note.figure);
  return {
    study,
    note,
    figure,
    limb: standingLimb(study, before, note, figure, lead),
    changes,
    before,
    after,
    moved,
    from: first - lead,
    to: last + lead,
  };
}

/** Checks that are about an end which stands, or should: where it stands, it stands for its whole stance. */
const ofStance: readonly string[] = ["off-ground", "through-ground", "contact-slide"];

function standingLimb(
  study: Study,
  { stances }: Motion,
  note: Note,
  figure: number,
  lead: number,
): Made["limb"] {
  const { indexOf } = rigOf(study);
  const node = indexOf.get(note.node ?? "");
  const limb =
    figure < 0 ? undefined : limbsOf(study, figure).find(({ end, ball }) => end === node || ball === node);
  if (limb === undefined || !ofStance.includes(note.check)) return null;
  const grid = gridOf(study);
  const [first, last] = note.frames.map((frame) => sampleAt(grid, frame));
  let [from, to] = [first, last];
  for (const stance of stances) {
    if (stance.node !== limb.end && stance.node !== limb.ball) continue;
    if (stance.from > last || stance.to < first) continue;
    from = Math.min(from, stance.from);
    to = Math.max(to, stance.to);
  }
  return { from: from - lead, to: to + lead, nodes: new Set(subtreeOf(rigOf(study), limb.root)) };
}
