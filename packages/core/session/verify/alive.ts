import { inRadians } from "../../base/constants.ts";
import { angleBetween } from "../../base/quaternion.ts";
import { distanceBetween } from "../../base/vector.ts";
import { statureNear } from "../../motion/path/moves.ts";
import { figuresOf } from "../../rig/body.ts";
import { localRotationOf, localTranslationOf } from "../../rig/pose.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import type { Law, Made, Motion } from "./law.ts";

/** Where nine parts in ten stand still the body is a picture, whatever the tenth does. */
const pictureShare = 0.9;
/** A part that turns by less, against the one above it, over a hold stands still. */
const leastTurn = inRadians(0.05);
/** So does one that shifts by less, in body heights: a fifth of a millimetre of a grown person. */
const leastShift = 0.0001;

/** The checks whose notes say that a whole body stands still. */
const freezes: ReadonlySet<string> = new Set(["frozen-hold", "frozen-end"]);

type Local = ReturnType<Motion["local"]>;

/** A body that stood still as a whole is alive again: a single part that drifts leaves the rest a picture. */
export const isAlive: Law = (made) => {
  const { study, note, figure, before } = made;
  if (!freezes.has(note.check) || figure < 0) return null;
  const now = (node: number) => ({
    shift: localTranslationOf(study, node),
    turn: localRotationOf(study, node),
  });
  const { count } = gridOf(study);
  const moving = figuresOf(study)[figure].nodes.filter(
    (node) => !isStill(made, node, before.local(node), 0, count - 1),
  );
  const [from, to] = note.frames.map((frame) => sampleAt(gridOf(study), frame));
  const stillIn = (local: (node: number) => Local) =>
    moving.filter((node) => isStill(made, node, local(node), from, to)).length;
  if (stillIn(before.local) < pictureShare * moving.length) return null;
  const left = stillIn(now);
  if (left < pictureShare * moving.length) return null;
  return `${left} of the ${moving.length} moving parts of the body would still stand still`;
};

function isStill({ study }: Made, node: number, { shift, turn }: Local, from: number, to: number): boolean {
  const way = (leastShift * statureNear(study, node)) / metresPerUnitOf(study);
  for (let i = from + 1; i <= to; i++) {
    if (angleBetween(turn, 4 * from, turn, 4 * i) > leastTurn) return false;
    if (distanceBetween(shift, from, shift, i) > way) return false;
  }
  return true;
}
