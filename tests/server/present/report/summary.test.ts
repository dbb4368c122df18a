import { expect, test } from "vitest";
import { summaryWriter } from "../../../../packages/server/present/report/summary.ts";
import { summarySchema } from "../../../../packages/server/present/report/summary-schema.ts";
import { brokenNote, reportedNote, reportedShot, written } from "./reported.ts";

const summary = (...args: Parameters<typeof written> extends [unknown, ...infer Rest] ? Rest : never) =>
  summarySchema.parse(JSON.parse(written(summaryWriter({ lightest: "minor" }), ...args)));

test("counts what a run found, and nothing of what is not shown", () => {
  const waiver = { reason: "meant", inDocument: true };
  const notes = [
    brokenNote,
    reportedNote(),
    reportedNote({ tier: "minor", check: "hitch" }),
    reportedNote({ tier: "polish", check: "idle-curve" }),
  ];
  const shots = [
    reportedShot({ notes, failing: true, waived: [{ ...reportedNote(), waiver }] }),
    reportedShot({ failures: [{ check: "pop", subject: null, others: 0, message: "m" }] }),
  ];
  expect(summary(shots, { errorFiles: ["gone.bvh"] })).toEqual({
    tool: { name: "keyside", version: "1.2.3" },
    shots: 2,
    failing: 1,
    notes: { broken: 1, major: 1, minor: 1, polish: 0 },
    checks: { "hard-stop": 1, hitch: 1, "missing-parent": 1 },
    waived: 1,
    errors: 1,
    failures: ["pop"],
  });
});

test("tells of a baseline, of a shard and of a run that was stopped", () => {
  const writer = summaryWriter({ lightest: "polish" });
  const shard = { index: 2, of: 5 };
  writer.begin({ version: "1.2.3", shard });
  writer.shot(reportedShot({ known: 4 }));
  const stopped = { done: 1, of: 9 };
  const end = writer.end({ shots: 1, notes: 0, errors: 0, failures: 0, stopped });
  expect(summarySchema.parse(JSON.parse(end))).toMatchObject({ known: 4, shard, stopped });
  expect(summary([])).toMatchObject({ shots: 0, checks: {} });
});
