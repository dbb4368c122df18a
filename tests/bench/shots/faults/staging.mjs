// @ts-check
/** Faults of the picture: what a camera shows badly, though the motion may be right. */
import { handLost, limbAtLens } from "./staging-arms.mjs";
import { cutByFrame, lookPast } from "./staging-framing.mjs";
import { blending, flashing } from "./staging-looks.mjs";

/** @type {readonly import("../types.d.ts").FaultKind[]} */
export const stagingFaults = [handLost, limbAtLens, cutByFrame, lookPast, blending, flashing];
