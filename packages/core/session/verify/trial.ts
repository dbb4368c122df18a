import { referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { checkIn } from "../../expressions/checks.ts";
import type { Note } from "../../faults/note.ts";
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
