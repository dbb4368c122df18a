import type { Study } from "../../../base/study.ts";
import { steadyContactsOf } from "../../../motion/ground/contact.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { strokesOf } from "../../../motion/path/strokes.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";

/**
 * Whether a foot has let go of what it touches near a corner of its path: it is on its way through
 * the air before and behind it, while something else bears the body. A joint farther up answers to the ground through the
 * limb that straightens.
 * @param node rig index of what turns the corner
 * @param touching rig index of what touches
 * @param at sample of the corner
 * @param least metres per frame from which on a step is at speed
 */
export function hasLetGo(study: Study, node: number, touching: number, at: number, least: number): boolean {
  return (
    endsAt(study, node, touching) && !standsBeside(study, touching, at, least) && !flies(study, node, at)
  );
}

/** Whether a foot touches, and a node is its end: what it is known by, or its ankle. A hand lets go of things that move as well. */
function endsAt(study: Study, node: number, touching: number): boolean {
  const figure = figureOfNode(study, node);
  if (figure < 0 || !footPointsOf(study, figure).some((point) => point.node === touching)) return false;
  const part = figuresOf(study)[figure].partOf.get(node);
  return node === touching || part === "leftFoot" || part === "rightFoot";
}

/**
 * Whether a node that touches comes to a stand within a frame of a corner, or makes no way to speak of between two stands:
 * what turns a limb aside is slower there than a corner is at speed. In a shuffle it has no room for an arc.
 * @param least metres per frame
 */
function standsBeside(study: Study, node: number, at: number, least: number): boolean {
  const steps = spacingOf(study, node);
  const last = Math.min(steps.length - 1, at + 2);
  for (let i = Math.max(1, at - 1); i <= last; i++) if (steps[i] < least) return true;
  return !strokesOf(study, node).some(({ from, to }) => from < at && at < to);
}

/** Whether nothing of a node's figure stands at a sample: where the whole body leaves the ground its feet are flung off. */
function flies(study: Study, node: number, at: number): boolean {
  const contacts = steadyContactsOf(study, figureOfNode(study, node));
  return !contacts.some(({ from, to }) => from <= at && at <= to);
}
