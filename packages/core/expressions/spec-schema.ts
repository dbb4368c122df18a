import { z } from "zod";
import { bodyParts } from "../document/schema.ts";

/** At most so many checks of its own can a configuration hold. */
export const maxOwnChecks = 100;
const expression = z.string().min(1).max(500);
const template = z.string().min(1).max(400);

/** A studio's own check as a configuration holds it. */
export const ownCheckSchema = z
  .strictObject({
    name: z
      .string()
      .max(60)
      .regex(
        /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/,
        "a name is written in small letters, digits and hyphens, as in prop-speed",
      )
      .describe("Its name in notes and reports, in small letters with hyphens."),
    tier: z.enum(["major", "minor", "polish"]).describe("Tier of its notes."),
    node: z
      .string()
      .min(1)
      .max(200)
      .optional()
      .describe('Id of the node that it is about, or a pattern such as "crate_*"; "subject" in expressions.'),
    part: z
      .enum(bodyParts)
      .optional()
      .describe('Body part that it is about, in every figure; "subject" in expressions.'),
    figure: z.string().min(1).max(200).optional().describe("Id of the figure; all figures if left out."),
    when: expression.optional().describe("Only frames at which this holds are looked at."),
    expression: expression.describe('What must not hold, for example "speed(crate) > 1.2 m/s".'),
    for: z
      .string()
      .max(40)
      .optional()
      .describe('For how long it must hold to be noted, such as "3 frames"; one frame.'),
    message: template.describe("What is said, with values in braces, as in {speed(crate)}."),
    suggestion: template.optional().describe("What to change, with values in braces."),
    why: z.string().min(1).max(400).optional().describe("Why it matters."),
  })
  .describe("A check of the studio's own.");

export type OwnCheckSpec = z.infer<typeof ownCheckSchema>;
