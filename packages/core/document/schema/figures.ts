import { z } from "zod";
import { extent, finite, id, vector3 } from "./base.ts";

/** Parts of a body, as figures name them. */
export const bodyParts = [
  "root",
  "spine",
  "chest",
  "neck",
  "head",
  "jaw",
  "leftShoulder",
  "leftUpperArm",
  "leftForearm",
  "leftHand",
  "leftFingers",
  "rightShoulder",
  "rightUpperArm",
  "rightForearm",
  "rightHand",
  "rightFingers",
  "leftThigh",
  "leftShin",
  "leftFoot",
  "leftToes",
  "rightThigh",
  "rightShin",
  "rightFoot",
  "rightToes",
  "leftWing",
  "rightWing",
  "tail",
  "ears",
  "hair",
  "prop",
] as const;
/** One of {@link bodyParts}. */
export type BodyPart = (typeof bodyParts)[number];

/** Kinds of limbs. */
export const limbKinds = ["leg", "arm", "wing", "fin", "tail", "neck", "tentacle", "other"] as const;

const partsShape = Object.fromEntries(
  bodyParts.map((part) => [
    part,
    z.union([id, z.array(id)], { error: "the id of a node, or a list of ids" }).optional(),
  ]),
) as Record<BodyPart, z.ZodOptional<z.ZodUnion<[typeof id, z.ZodArray<typeof id>]>>>;

const solePoint = z
  .union([id, z.object({ node: id, at: vector3 })], {
    error: 'the id of a node, or a point such as { "node": "foot_l", "at": [0, -7, 4] }',
  })
  .describe("A node, or a point in a node's space: { node, at }.");

export const soleSchema = z
  .object({
    heel: solePoint.optional(),
    ball: solePoint.optional(),
    toe: solePoint.optional(),
    thickness: finite
      .min(0)
      .optional()
      .describe("How far what touches the ground is beneath these points, in units; 0 if left out."),
  })
  .describe("Where a limb stands, from its back to its front; at least one point.");

export const limbSchema = z
  .object({
    id: id.describe("Its name within the figure."),
    kind: z.enum(limbKinds),
    side: z.enum(["left", "right"]).optional().describe("Left out for one that is in the middle."),
    nodes: z.array(id).min(1).describe("From the joint at the body to the end."),
    sole: soleSchema.optional(),
  })
  .describe("A limb of a figure, of which there may be any number.");

export const animators = z
  .array(z.string().min(1))
  .describe("Who animated it; those of a figure go before those of the shot.");

export const figureSchema = z
  .object({
    id,
    parts: z.object(partsShape).optional().describe("Which node is which part; the rest is inferred."),
    limbs: z.array(limbSchema).optional(),
    stature: extent.optional().describe("Height in metres."),
    mass: extent.optional().describe("Mass in kilograms."),
    animators: animators.optional(),
  })
  .describe("A character.");
