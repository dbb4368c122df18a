import { describe, expect, test } from "vitest";
import { valueAt } from "../../../packages/core/curve/evaluate.ts";
import { editShot } from "../../../packages/core/document/edit.ts";
import type { Channel } from "../../../packages/core/document/model.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { examples } from "../../../packages/core/faults/examples.ts";
import { keysAlone } from "../../../packages/core/faults/shared/keying/rekey.ts";
import { trackOf } from "../../../packages/core/faults/shared/keying/track.ts";
import { offsetTrack } from "../../../packages/core/faults/shared/posing/offsets.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import type { KeyMove } from "../../../packages/core/session/moves.ts";
import { FixSession, provenFix } from "../../../packages/core/session/proving.ts";
import { titleOf } from "../../../packages/core/session/title.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";
import { bipedDocument, pointDocument } from "../../support/shots.ts";
import { settings, shotFrom } from "./objections.ts";

/** A hold from frame 9 to frame 24 in which both handles rise. */
const breathing = () =>
  pointDocument({
    "translation.y": {
      interpolation: "bezier",
      keys: [
        [1, 0, { out: [3, 0] }],
        [9, 0.2, { in: [-3, 0], out: [5, 0.08] }],
        [24, 0.2, { in: [-5, 0.08], out: [3, 0] }],
        [32, 0.05, { in: [-3, 0] }],
      ],
    },
  });

describe("an offset at the keys that are there", () => {
  const shot = shotFrom(breathing());
  const study = studyOf(shot, settings);
  const { count } = gridOf(study);
  const amount = Float64Array.from({ length: count }, (_, i) => (i >= 8 && i <= 23 ? 0.1 : 0));
  const node = rigOf(study).indexOf.get("point") ?? 0;

  test("moves them, and brings none in", () => {
    const track = trackOf(study, node, "translation.y" as Channel);
    const edits = offsetTrack(study, track, { lo: 0, hi: count - 1 }, amount, keysAlone);
    const [curve] = editShot(shot, edits).curves;
    expect([...curve.frames]).toEqual([1, 9, 24, 32]);
    expect(valueAt(curve, 9)).toBeCloseTo(0.3, 4);
    expect(valueAt(curve, 24)).toBeCloseTo(0.3, 4);
    expect(valueAt(curve, 32)).toBeCloseTo(0.05, 6);
  });

  test("makes no curve where there is none", () => {
    const track = trackOf(study, node, "translation.x" as Channel);
    expect(offsetTrack(study, track, { lo: 0, hi: count - 1 }, amount, keysAlone)).toEqual([]);
  });
});

test("an overshoot of a hold is levelled wholly", () => {
  const session = new FixSession(shotFrom(breathing()), settings);
  const note = session.notes.find(({ check }) => check === "overshoot");
  const proven = note === undefined ? null : session.prove(note);
  expect(proven?.kind).toBe("fix");
  if (proven === null) return;
  session.make(proven);
  const [curve] = session.shot.curves;
  for (let frame = 9; frame <= 24; frame++) expect(valueAt(curve, frame)).toBeCloseTo(0.2, 6);
});

test("a note that another study found is mended like the one that the session finds", () => {
  let compared = 0;
  for (const name of ["overshoot", "pop", "off-ground", "hard-stop"] as const) {
    for (const { motion, config } of examples[name].faulty.slice(0, 3)) {
      if (config !== undefined) continue;
      const shot = shotFrom(motion() as CurveDocument);
      const strange = notesOf(studyOf(shot, settings)).find(({ check }) => check === name);
      const session = new FixSession(shot, settings);
      const own = session.notes.find(({ check }) => check === name);
      if (strange === undefined || own === undefined) continue;
      expect(strange).not.toBe(own);
      const [a, b] = [provenFix(shot, settings, strange), session.prove(own)];
      expect(a?.edits, name).toEqual(b?.edits);
      expect(a?.gone.some(({ fingerprint }) => fingerprint === strange.fingerprint) ?? true, name).toBe(true);
      compared++;
    }
  }
  expect(compared).toBeGreaterThan(6);
});

describe("a title", () => {
  const shot = shotFrom(bipedDocument({}));
  const move = (...nodes: string[]): KeyMove => ({
    kind: "key in value",
    nodes,
    channel: "rotation.x",
    frames: [1, 1],
    keys: nodes.length,
    text: `${nodes[0]} rotation.x: key 1: 0 → 1`,
  });

  test("that names what moves stays", () => {
    expect(titleOf("let head drift on", [move("head")], shot)).toBe("let head drift on");
  });

  test("that names what does not move says what is done instead", () => {
    expect(titleOf("let head drift on", [move("chest")], shot)).toBe("chest rotation.x: key 1: 0 → 1");
  });

  test("of many moves says which parts they move", () => {
    const moves = ["hips", "chest", "upper_arm_l", "upper_arm_r"].map((node) => move(node));
    expect(titleOf("let head drift on, frames 3 to 9", moves, shot)).toBe(
      "let hips and 3 other parts drift on, frames 3 to 9",
    );
  });
});
