import { describe, expect, test } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { FixSession, type ProvenFix } from "../../../packages/core/session/proving.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { bipedDocument, eased, everyFrame, pointDocument, standingFor } from "../../support/shots.ts";

const settings = resolveSettings(registry);

function shotFrom(document: CurveDocument): Shot {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("The document is no shot.");
  return shot;
}

/** The fix of the first note of a check. */
function fixOf(document: CurveDocument, check: string): ProvenFix {
  const session = new FixSession(shotFrom(document), settings);
  const note = session.notes.find((one) => one.check === check);
  if (note === undefined) throw new Error(`There is no ${check}: ${session.notes.map((one) => one.check)}`);
  const proven = session.prove(note);
  if (proven === null) throw new Error(session.whyNot(note) ?? "nothing said");
  return proven;
}

describe("a fix takes the moves that an animator would", () => {
  test("keys that crowd one after another go, and those on whole frames stay", () => {
    const way = eased(4, 40, 0, 1);
    const frames = [...Array.from({ length: 12 }, (_, i) => 1 + 4 * i), 20.3, 21, 21.3, 22].sort(
      (a, b) => a - b,
    );
    const { kind, changes } = fixOf(
      pointDocument({ "translation.x": frames.map((frame): [number, number] => [frame, way(frame)]) }),
      "key-crowding",
    );
    expect(kind).toBe("fix");
    // 20 was free for the key beside it; 21 was not.
    expect(changes.map(({ before, after }) => [before?.frame, after?.frame])).toEqual([
      [20.3, 20],
      [21.3, undefined],
    ]);
  });

  test("an arm that stands for two frames in all its joints is carried over them as a whole", () => {
    const late = (angle: number) => (frame: number) => eased(6, 40, 0, angle)(standingFor(2, 22)(frame));
    const { kind, moves, gone } = fixOf(
      bipedDocument({
        "upper_arm_l rotation.z": everyFrame(1, 48, late(70)),
        "forearm_l rotation.y": everyFrame(1, 48, late(-50)),
      }),
      "hitch",
    );
    expect(kind).toBe("fix");
    expect(gone.length).toBeGreaterThan(0);
    expect(moves).toHaveLength(1);
    expect(moves[0].kind).toBe("limb");
  });

  test("a hitch beside a pop of 8 cm goes by itself: it is gone once the part moves on", () => {
    const { kind, moves } = fixOf(
      pointDocument({
        "translation.x": everyFrame(1, 60, (frame) => eased(4, 44, 0, 1.2)(standingFor(2, 22)(frame))),
        "translation.y": everyFrame(1, 60, (frame) => (frame === 26 ? 0.08 : 0)),
      }),
      "hitch",
    );
    expect(kind).toBe("fix");
    expect(moves.map(({ channel }) => channel)).toEqual(["translation.x"]);
  });

  test("a key too many that holds a move up goes out", () => {
    const way = eased(4, 44, 0, 1);
    const keys = Array.from({ length: 13 }, (_, i): [number, number] => [4 * i, way(4 * i)]);
    keys.splice(7, 0, [26, way(24)]);
    const { kind, moves } = fixOf(
      pointDocument({ "translation.x": { interpolation: "smooth", keys: keys.slice(1) } }),
      "hitch",
    );
    expect(kind).toBe("fix");
    expect(moves.map((move) => move.kind)).toEqual(["key out"]);
  });
});
