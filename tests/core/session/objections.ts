import { expect } from "vitest";
import { type KeyEdit, tryEditShot } from "../../../packages/core/document/edit.ts";
import { setShot } from "../../../packages/core/document/inputs.ts";
import type { Channel, Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { keyChanges } from "../../../packages/core/session/changes.ts";
import { madeOf, motionOf } from "../../../packages/core/session/verify/trial.ts";
import { objectionTo } from "../../../packages/core/session/verify/verify.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";

export const settings = resolveSettings(registry);

/** @throws Error where the document is no shot */
export function shotFrom(document: CurveDocument): Shot {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("The document is no shot.");
  return shot;
}

/** What is said against edits of a shot that are made for a note; null where nothing is. */
export function objection(shot: Shot, edits: readonly KeyEdit[], note: Note): string | null {
  const study = studyOf(shot, settings);
  const before = motionOf(study);
  const { shot: after, problems } = tryEditShot(shot, edits);
  expect(problems).toEqual([]);
  setShot(study, after, shot);
  return objectionTo(madeOf(study, before, note, keyChanges(shot, after, edits)))?.reason ?? null;
}

/** An edit that sets a key. */
export const set = (node: string, channel: Channel, frame: number, value: number): KeyEdit => ({
  kind: "set",
  node,
  channel,
  frame,
  value,
});
