import { referenceRate } from "../../base/constants.ts";
import { measure, type Study, sameNumbers } from "../../base/study.ts";
import type { BodyPart } from "../../document/schema.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { restFloorOf } from "../path/moves.ts";
import { spacingOf } from "../path/spacing.ts";
import { type Contact, carryingOf, contactsOf, plantShares } from "./contact.ts";
import { footPointsOf } from "./feet.ts";
import { standingSpeedOf } from "./foot.ts";
import type { FootPoint } from "./foot-points.ts";
import { addInHands } from "./in-hands.ts";
import { buoyedAt } from "./medium.ts";
import { seatsOf } from "./seats.ts";
import { standingLevelOf } from "./standing.ts";
import { heightAt } from "./surface.ts";

/**
 * The contacts of a figure that can support it. Left out are hands on things that move along (what a hand carries does
 * not carry the body), and ankles that happen to pass the height of some surface while the ball of the same foot is
 * declared to stand at other times.
 */
export const supportContactsOf = measure("support contacts", (study, figure: number): readonly Contact[] => {
  const contacts = contactsOf(study, figure);
  const { partOf } = figuresOf(study)[figure];
  const feet = footPointsOf(study, figure);
  const reach = Math.round((heelLead * gridOf(study).rate) / referenceRate);
  const declared = contacts.filter((contact) => contact.declared);
  return contacts.filter((contact) => {
    if (contact.declared) return !holdsSomethingMoving(study, contact, partOf.get(contact.node));
    if (contact.point !== "heel") return true;
    const index = feet.findIndex(({ node }) => node === contact.node);
    const ball = feet[index + 1]?.point === "toe" ? feet[index + 1].node : -1;
    const own = declared.filter(({ node }) => node === ball);
    const near = (a: Contact) => a.from <= contact.to + reach && contact.from <= a.to + reach;
    return own.length === 0 || own.some((ball) => ball.surface.id === contact.surface.id && near(ball));
  });
});

/**
 * Frames (at 24 per second) by which a heel may land before, or stay after, its ball. Common practice: in a walk on
 * twelves the foot lies flat in the down pose, three frames after the contact pose; one more is let pass.
 */
const heelLead = 4;

const handParts: readonly (BodyPart | undefined)[] = [
  "leftHand",
  "rightHand",
  "leftFingers",
  "rightFingers",
  "leftForearm",
  "rightForearm",
];

function holdsSomethingMoving(study: Study, contact: Contact, part: BodyPart | undefined): boolean {
  if (!handParts.includes(part)) return false;
  const thing = rigOf(study).indexOf.get(contact.surface.id);
  if (thing === undefined) return false;
  const steps = spacingOf(study, thing);
  const floor = restFloorOf(study, thing);
  for (let i = contact.from + 1; i <= contact.to; i++) if (steps[i] > floor) return true;
  return false;
}

/**
 * 1 at the samples at which a figure has support: contacts that can support it, and the ends of its toes after them; what
 * it sits on; what holds it; and where the medium carries it.
 */
export const bodySupportAt = measure(
  "body support",
  (study, figure: number): Uint8Array => {
    const supported = buoyedAt(study, figure).slice();
    for (const { from, to } of seatsOf(study, figure)) supported.fill(1, from, to + 1);
    addInHands(study, figure, supported);
    const feet = footPointsOf(study, figure);
    for (const contact of supportContactsOf(study, figure)) {
      const { from, to } = carryingOf(study, figure, contact);
      supported.fill(1, from, to + 1);
      const foot = feet.find(({ node }) => node === contact.node);
      // A declared contact says itself when it ends.
      if (!contact.declared && foot !== undefined && foot.tip >= 0)
        addTip(study, figure, contact, foot, supported);
    }
    return supported;
  },
  sameNumbers,
);

/** The end of the toes goes on standing where the ball has left. */
function addTip(
  study: Study,
  figure: number,
  contact: Contact,
  foot: FootPoint,
  supported: Uint8Array,
): void {
  const stature = statureOf(study, figure);
  const speed = standingSpeedOf(study, foot.tip);
  const { position } = worldOf(study, foot.tip);
  const level = standingLevelOf(study, figure, foot.tip);
  for (let i = contact.to + 1; i < supported.length; i++) {
    const isAtLevel =
      Math.abs(heightAt(contact.surface, position, i) - level) < plantShares.enterHeight * stature;
    if (!isAtLevel || !(speed[i] < plantShares.enterSpeed * stature)) break;
    supported[i] = 1;
  }
}
