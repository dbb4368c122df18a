import fc from "fast-check";
import { expect, test } from "vitest";
import { Turns } from "../../../../packages/server/judge/archive/turns.ts";

test("whoever is alone has nobody beside, and everybody has a turn", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(fc.boolean(), { maxLength: 20 }), fc.scheduler(), async (wishes, scheduler) => {
      const turns = new Turns();
      let together = 0;
      let alone = 0;
      const all = Promise.all(
        wishes.map((isAlone) =>
          turns[isAlone ? "alone" : "beside"](async () => {
            if (isAlone) alone++;
            else together++;
            expect(alone === 0 || (alone === 1 && together === 0)).toBe(true);
            await scheduler.schedule(Promise.resolve());
            if (isAlone) alone--;
            else together--;
          }),
        ),
      );
      await scheduler.waitFor(all);
    }),
    { numRuns: 100 },
  );
});
