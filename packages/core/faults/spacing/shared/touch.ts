import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { impactsOf } from "../../../motion/body/impact.ts";
import { isJolted, type Jolted } from "../../../motion/body/jolt.ts";
import { steadyContactsOf } from "../../../motion/ground/contact.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { touchesOf } from "../../../motion/ground/touch-down.ts";
import { restFloorOf } from "../../../motion/path/moves.ts";
import { spacingOf } from "../../../motion/path/spacing.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { isOnLimbTo, limbCarrierOf } from "../../../rig/limb-carrier.ts";
import { chainTopsOf, isAbove, rigOf, subtreeOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { handledOf } from "../../shared/things/handled.ts";

/**
 * A limb touches what its end touches: a knee answers to its foot and to its toes, and so does the thigh, but hips do
 * not. Levels of hierarchy, where no limb is known.
 */
const limbLevels = 2;
/**
 * Frames (at 24 per second) by which a contact may be off the moment at which the part answers to it: a foot touches
 * between two frames, and a declared frame may be one off.
 */
const slack = 2;

/**
 * Parts that give where they touch: weight that is let down on a seat settles into it, and rises out of it. A body whose
 * foot is its root, such as a lamp on one leg, stands on that as on any foot.
 */
export const softParts: readonly (BodyPart | undefined)[] = ["root", "spine", "chest"];
const feet: readonly BodyPart[] = ["leftFoot", "rightFoot", "leftToes", "rightToes"];

/**
 * Whether something outside explains a sudden change of a part between two samples: an impact of the whole body (see
 * `isJolted`), or a contact of the part's own limb that begins or ends there. What a foot does while it stands is up to
 * the ground: it rolls flat and stays. All of that is told from steady paths: a pop makes no contact.
 * @param from first sample of the change
 * @param to last sample of it
 * @param kind whether the part's travel changes or its turning
 * @param given parts of which a contact explains nothing
 */
export function isTouched(
  study: Study,
  node: number,
  from: number,
  to: number,
  kind: Jolted = "position",
  given: readonly (BodyPart | undefined)[] = [],
): boolean {
  const figure = figureOfNode(study, node);
  if (figure < 0) return false;
  if (isJolted(study, node, from, to, kind)) return true;
  const reach = Math.round((slack * gridOf(study).rate) / referenceRate);
  const figures = figuresOf(study);
  const part = figures[figure].partOf.get(node);
  const isFoot = part !== undefined && feet.includes(part);
  const touch = steadyContactsOf(study, figure).find((contact) => {
    if (!sameLimb(study, node, contact.node)) return false;
    if (given.includes(figures[figure].partOf.get(contact.node)) && !isFootOf(study, figure, contact.node))
      return false;
    const comesOrGoes = (span: Span) => meets(span.from, from, to, reach) || meets(span.to, from, to, reach);
    return (
      comesOrGoes(contact) ||
      (isFoot && contact.from <= from && contact.to >= to) ||
      comesOrGoes(touchesOf(study, figure, contact))
    );
  });
  if (touch !== undefined) excused(node, from, to, "a contact of its limb begins, ends or lasts there");
  return touch !== undefined;
}

function isFootOf(study: Study, figure: number, node: number): boolean {
  return footPointsOf(study, figure).some((point) => point.node === node);
}

/**
 * Whether the limb of a node touches something about the samples from..to: its joints then answer to that, and turn
 * against each other as it asks. Joints that follow each other without a branch are a limb.
 */
export function isPlanted(study: Study, node: number, from: number, to: number): boolean {
  const figure = figureOfNode(study, node);
  if (figure < 0) return false;
  const chains = chainTopsOf(study);
  const reach = Math.round((slack * gridOf(study).rate) / referenceRate);
  const isSo = steadyContactsOf(study, figure).some(
    (contact) =>
      contact.from <= to + reach && contact.to >= from - reach && chains[contact.node] === chains[node],
  );
  if (isSo) excused(node, from, to, "its limb touches something, and its joints answer to that");
  return isSo;
}

/** Frames (at 24 per second) next to a contact in which a limb still answers to it. */
const beside = 1;

/**
 * Whether a node's limb stands on something between two samples, or within a frame of them: on what a contact names, or
 * where a joint of it stays in the world while what carries the limb moves.
 */
export function standsNear(study: Study, node: number, from: number, to: number): boolean {
  const figure = figureOfNode(study, node);
  if (figure < 0) return false;
  const rig = rigOf(study);
  const reach = Math.round((beside * gridOf(study).rate) / referenceRate);
  const stands = steadyContactsOf(study, figure).some(
    (contact) =>
      contact.from <= to + reach && contact.to >= from - reach && sameLimb(study, node, contact.node),
  );
  if (stands) return true;
  const floor = restFloorOf(study, node);
  const last = Math.min(gridOf(study).count - 1, to + 1 + reach);
  const limbCarrier = limbCarrierOf(study, node);
  const carrier = limbCarrier < 0 ? rig.parent[node] : limbCarrier;
  const carrying = carrier < 0 ? null : spacingOf(study, carrier);
  return subtreeOf(rig, node).some((below) => {
    const steps = spacingOf(study, below);
    let stays = 0;
    for (let i = Math.max(1, from - reach); i <= last; i++) {
      // Where its carrier rests as well nothing stands: all is at rest.
      const isSo = steps[i] < floor && (carrying === null || carrying[i] >= floor);
      stays = isSo ? stays + 1 : 0;
      if (stays === leastStay) return true;
    }
    return false;
  });
}

/** A joint stays where two steps in a row are none: one alone is what a slip in a slow move comes by. */
const leastStay = 2;

/** Whether the whole body has an impact at one of the samples from..to. */
export function isStruck(study: Study, node: number, from: number, to: number): boolean {
  const figure = figureOfNode(study, node);
  const isSo =
    figure >= 0 &&
    impactsOf(study, figure)
      .subarray(from, to + 1)
      .includes(1);
  if (isSo) excused(node, from, to, "the whole body has an impact there");
  return isSo;
}

/** Whether a hand of the node's limb catches a thing that flies between two samples: what it carries sets the arm going. */
export function isHit(study: Study, node: number, from: number, to: number): boolean {
  const reach = Math.round((slack * gridOf(study).rate) / referenceRate);
  const isSo = handledOf(study).some(
    ({ hand, at, isCatch }) => isCatch && meets(at, from, to, reach) && sameLimb(study, node, hand),
  );
  if (isSo) excused(node, from, to, "its hand catches a thing that flies");
  return isSo;
}

function meets(at: number, from: number, to: number, reach: number): boolean {
  return at >= from - reach && at <= to + reach;
}

function sameLimb(study: Study, node: number, touching: number): boolean {
  const rig = rigOf(study);
  if (isAbove(rig, touching, node)) return true;
  if (!isAbove(rig, node, touching)) return false;
  return rig.depth[touching] - rig.depth[node] <= limbLevels || isOnLimbTo(study, node, touching);
}
