import { z } from "zod";

const count = z.number().int().min(0);
const share = z.number().min(0).max(1);

const habitSchema = z.object({
  check: z.string(),
  shots: count.describe("Shots in which it was, in any version."),
  share: z
    .object({ value: share, from: share, to: share })
    .nullable()
    .describe("Share of all shots of the group, and its 95 % interval; null where there are too few shots."),
  gone: count.describe("Shots in which a later version no longer had it."),
  versions: z
    .number()
    .min(1)
    .nullable()
    .describe("Versions that it took to go, in the median; null where there are too few such shots."),
  stayed: count.describe("Shots of several versions whose last one still has it."),
  trend: z
    .object({
      earlier: share,
      later: share,
      verdict: z.enum(["better", "worse", "no difference to tell"]),
    })
    .nullable()
    .describe(
      "The share in the earlier and in the later half of the shots; null where a half has too few shots, or no times are known.",
    ),
});

export const habitsSchema = z
  .object({
    caution: z.string().describe("What these numbers do not say; show it with them."),
    least: z.object({
      shots: count.describe("Below so many shots no share is told, and no trend below so many in each half."),
      gone: count.describe("Below so many shots in which a fault has gone, no median is told."),
    }),
    groups: z
      .array(
        z.object({
          name: z.string().describe("The folder, what the field says, or what the expression catches."),
          shots: count.describe("However many versions each has."),
          versions: count,
          habits: z.array(habitSchema).describe("What is in the most shots first."),
        }),
      )
      .describe("In the order of their names: nobody is ranked."),
  })
  .describe("Which faults come again over many shots.");

/** What `keyside habits` writes for other systems. */
export type HabitsReport = z.infer<typeof habitsSchema>;

/** JSON Schema (draft 2020-12) of the output of habits. */
export function habitsJsonSchema(): Record<string, unknown> {
  return { title: "Keyside habits", ...z.toJSONSchema(habitsSchema) };
}
