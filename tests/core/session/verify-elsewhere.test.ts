import { describe, expect, test } from "vitest";
import { editShot } from "../../../packages/core/document/edit.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { mostAdded } from "../../../packages/core/faults/shared/keying/keying.ts";
import { decimalsOf } from "../../../packages/core/faults/shared/keying/precision.ts";
import { statureNear } from "../../../packages/core/motion/path/moves.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { FixSession } from "../../../packages/core/session/proving.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { eased, everyFrame, pointDocument } from "../../support/shots.ts";
import { faultOf } from "./faults.ts";
import { objection, set, settings, shotFrom } from "./objections.ts";

const note = {
  check: "pop",
  figure: null,
  node: null,
  seenAt: [],
  keys: [],
  frames: [70, 70],
} as unknown as Note;

/** A point that goes over and back by so much, metres, turning once, in the first forty frames; it is still behind them. */
const nod = (by: number) => (frame: number) => eased(4, 20, 0, by)(frame) - eased(20, 36, 0, by)(frame);
const keyed = (value: (frame: number) => number) =>
  shotFrom(pointDocument({ "translation.y": everyFrame(1, 80, value) }));
const keys = (value: (frame: number) => number) =>
  Array.from({ length: 40 }, (_, i) => set("point", "translation.y", 1 + i, value(1 + i)));

/** What a part may move by elsewhere, metres: half a percent of the stature. */
const least = 0.005 * statureNear(studyOf(keyed(nod(0.01)), settings), 0);

describe("outside the noted frames", () => {
  // Small enough that no part moves by half a percent: only the shape of the course tells.
  test("no key pose is lost: a turn that is smoothed away is refused", () => {
    const shot = keyed(nod(1.4 * least));
    expect(objection(shot, keys(nod(0.44 * least)), note)).toMatch(
      /^the point would lose its key pose at frame \d+$/,
    );
  });

  test("no part turns back where it did not", () => {
    const shot = keyed(nod(0.44 * least));
    expect(objection(shot, keys(nod(1.4 * least)), note)).toMatch(
      /^the point would turn back at frame \d+, where it did not$/,
    );
  });

  test("the same course in the same shape may stay", () => {
    const shot = keyed(nod(1.4 * least));
    expect(objection(shot, keys(nod(1.38 * least)), note)).toBeNull();
  });
});

describe("what a fix leaves in the document", () => {
  const faults = ["pop", "hitch", "hard-stop", "overshoot", "contact-slide"].flatMap(
    (check) => faultOf(check, "keyed") ?? [],
  );
  const fixes = faults.flatMap(({ shot, note }) => {
    const proven = new FixSession(shot, settings).prove(note);
    return proven?.kind === "fix" ? [{ shot, proven }] : [];
  });

  test("is sparse where it was: no curve gets more than two keys", () => {
    expect(fixes.length).toBeGreaterThan(2);
    for (const { shot, proven } of fixes) {
      const after = editShot(shot, proven.edits);
      for (const { node, channel, frames } of after.curves) {
        const old = shot.curves.find((curve) => curve.node === node && curve.channel === channel);
        expect(frames.length - (old?.frames.length ?? 0), `${node} ${channel}`).toBeLessThanOrEqual(
          mostAdded,
        );
      }
    }
  });

  test("has no more digits than its channel is written with", () => {
    for (const { shot, proven } of fixes) {
      const study = studyOf(shot, settings);
      for (const { node, channel, before, after } of proven.changes) {
        if (typeof after?.value !== "number" || after.value === before?.value) continue;
        const most = decimalsOf(study, rigOf(study).indexOf.get(node) ?? -1, channel);
        expect(Number(after.value.toFixed(most))).toBe(after.value);
      }
    }
  });

  test("is told by a title that names no node of which no key changes", () => {
    for (const { shot, proven } of fixes) {
      const changed = new Set(proven.changes.map(({ node }) => node));
      const words = proven.title.split(/[\s,;:]+/);
      const named = shot.header.nodes.map(({ id }) => id).filter((id) => words.includes(id));
      expect(
        named.filter((id) => !changed.has(id)),
        proven.title,
      ).toEqual([]);
    }
  });
});
