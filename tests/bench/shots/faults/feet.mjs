// @ts-check
/** Faults of feet and legs: contacts, rolls, knees, the body over its steps. */
import { contactSlide, offGround, throughGround } from "./feet-contacts.mjs";
import { bodyTiedToSteps, legSnap } from "./feet-legs.mjs";
import { flatFoot, oneAxisRoll } from "./feet-rolls.mjs";

/** @type {readonly import("../types.d.ts").FaultKind[]} */
export const feetFaults = [
  contactSlide,
  offGround,
  throughGround,
  flatFoot,
  oneAxisRoll,
  legSnap,
  bodyTiedToSteps,
];
