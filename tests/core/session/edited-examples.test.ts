import { isDeepStrictEqual } from "node:util";
import { expect, test, vi } from "vitest";
import type { KeyEdit } from "../../../packages/core/document/edit.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { throughPropExamples } from "../../../packages/core/faults/props/through-prop/examples.ts";
import { contactSlideExamples } from "../../../packages/core/faults/weight/contact-slide/examples.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { ShotSession } from "../../../packages/core/session/shot-session.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { chosenSettings } from "./random-edits.ts";

/** Checks that keep what they measure at each sample, on things, bodies, surfaces and feet: their examples, edited. */

vi.setConfig({ testTimeout: 600_000 });

const settings = chosenSettings[0];
const documents = [throughPropExamples, contactSlideExamples].flatMap(({ faulty, silent }) =>
  [...faulty, ...silent].map(({ title, motion }) => [title, motion] as const),
);

/** Keys all over the shot, moved a little and far; the last edit of each puts it back. */
function* editsOf({ curves }: CurveDocument): Generator<KeyEdit> {
  for (const [k, curve] of curves.entries()) {
    // Every curve of a short document, some of a long one.
    if (k % Math.ceil(curves.length / 3) !== 0) continue;
    const key = curve.keys[Math.floor(((k + 1) * curve.keys.length) / (curves.length + 1))];
    const [frame, value] = key;
    if (typeof value !== "number") continue;
    const { node, channel } = curve;
    for (const by of [0.013, -0.21, 0])
      yield { kind: "set", node, channel, frame, value: value + by } as KeyEdit;
  }
}

test.each(documents)("edited keys give what a fresh check gives: %s", (_, motion) => {
  const document = motion();
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("the document cannot be used");
  const session = new ShotSession(shot, settings);
  const { memo } = session.study;
  memo.audit = (kept, now) => {
    if (!isDeepStrictEqual(kept, now)) expect(kept).toStrictEqual(now);
  };
  for (const edit of editsOf(document)) {
    expect(session.edit([edit]).problems).toEqual([]);
    expect(session.failures).toEqual([]);
    expect(session.notes).toStrictEqual(notesOf(studyOf(session.shot, settings)));
  }
});
