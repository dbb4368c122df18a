import type { BodyPart } from "../../../document/schema.ts";

/** Limits of the turning of joints, by the name of their setting. */
export type TurnLimit = "spin" | "trunk" | "head" | "shoulder" | "elbow" | "wrist" | "hip" | "knee" | "ankle";

/** Which limit a part's turning has. */
export const turning: Partial<Record<BodyPart, TurnLimit>> = {
  root: "spin",
  spine: "trunk",
  chest: "trunk",
  neck: "head",
  head: "head",
  leftUpperArm: "shoulder",
  rightUpperArm: "shoulder",
  leftForearm: "elbow",
  rightForearm: "elbow",
  leftHand: "wrist",
  rightHand: "wrist",
  leftThigh: "hip",
  rightThigh: "hip",
  leftShin: "knee",
  rightShin: "knee",
  leftFoot: "ankle",
  rightFoot: "ankle",
};
