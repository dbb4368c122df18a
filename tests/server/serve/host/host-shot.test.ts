import { expect, test } from "vitest";
import type { KeyEdit } from "../../../../packages/core/document/edit.ts";
import { shotOf } from "../../../../packages/core/document/read.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { HostShot } from "../../../../packages/server/serve/host/host-shot.ts";
import type { NotesChanged } from "../../../../packages/server/serve/host/sent.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";

const document = pointDocument(
  { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
  { range: [1, 40] },
);

test("after judging failed the next edit is judged from the keys alone, and tells what changed since the last telling", () => {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("the document cannot be used");
  const told: NotesChanged[] = [];
  const failures: number[] = [];
  const opened = new HostShot(
    { name: "a", folder: null, revision: 4, shot, settings: resolveSettings(registry) },
    {
      isWaiting: () => false,
      changed: (message) => told.push(message),
      failed: (revision) => failures.push(revision),
    },
  );
  const judge = () => {
    for (const _ of opened.steps());
    opened.done();
  };
  judge();
  const pop: KeyEdit = { kind: "set", node: "point", channel: "translation.x", frame: 18, value: 3 };
  expect(opened.edit([pop])).toEqual([]);
  opened.failed(new Error("a check threw"));
  expect(failures).toEqual([5]);
  expect(opened.notes).toBeNull();
  expect(opened.edit([{ ...pop, frame: 19 }])).toEqual([]);
  judge();
  expect(told.map(({ revision }) => revision)).toEqual([4, 6]);
  expect(told[1].added.length).toBeGreaterThan(0);
  expect(opened.notes).not.toBeNull();
});
