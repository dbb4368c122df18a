import fc from "fast-check";
import { expect, test, vi } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { bipedDocument } from "../../support/shots.ts";
import { audited, expectFresh } from "./fresh.ts";
import { chosenSettings } from "./random-edits.ts";

// A fresh check after each edit of a long shot takes its time on a busy machine.
vi.setConfig({ testTimeout: 600_000 });

const settings = chosenSettings[0];

/** Frames of a pose and of the way to the next one: some end dead, some are even, some ease. */
const parts = [
  { rest: 8, way: 6, interpolation: "linear" },
  { rest: 3, way: 12, interpolation: "smooth" },
  { rest: 14, way: 2, interpolation: "linear" },
] as const;

/** A body that goes from pose to pose and rests in each: its moves begin and end all through the shot. */
function stopAndGo(poses: number): Shot {
  const document = bipedDocument({}, { range: [1, 1] });
  const channels = [
    ["hips", "translation.x", 0, 0.2],
    ["hips", "rotation.y", 0, 25],
    ["upper_arm_l", "rotation.z", -60, 50],
    ["forearm_l", "rotation.x", 10, 40],
  ] as const;
  let last = 1;
  const curves = channels.map(([node, channel, base, size], c) => {
    const keys: [number, number, { interpolation: "linear" | "smooth" }][] = [];
    let frame = 1;
    for (let pose = 0; pose < poses; pose++) {
      const { rest, way, interpolation } = parts[(pose + c) % parts.length];
      const value = base + size * Math.sin(2.3 * pose + c);
      keys.push([frame, value, { interpolation: "linear" }], [frame + rest, value, { interpolation }]);
      frame += rest + way;
    }
    last = Math.max(last, frame);
    return { node, channel, interpolation: "linear" as const, keys };
  });
  const { shot } = shotOf({ ...document, shot: { ...document.shot, range: [1, last] }, curves });
  if (shot === null) throw new Error("the document cannot be used");
  return shot;
}

const shot = stopAndGo(24);

test("the shot stops dead and goes evenly somewhere, so that what is kept of it is something", () => {
  const { notes } = audited(shot, settings);
  const checks = new Set(notes.flatMap((note) => [note, ...(note.also ?? [])]).map(({ check }) => check));
  for (const check of ["hard-stop", "hard-start", "even-spacing"]) expect(checks).toContain(check);
});

/** A key that is moved in time or in value, anywhere, and may be put back. */
const anyEdit = fc.record({
  curve: fc.nat(shot.curves.length - 1),
  where: fc.double({ min: 0, max: 0.999, noNaN: true }),
  by: fc.double({ min: -1, max: 1, noNaN: true }),
  inTime: fc.boolean(),
  isUndone: fc.boolean(),
});

test("a session on a shot that stops and goes holds what a fresh check gives, through runs of edits and their undoing", () => {
  fc.assert(
    fc.property(fc.array(anyEdit, { minLength: 3, maxLength: 6 }), (edits) => {
      const session = audited(shot, settings);
      for (const { curve, where, by, inTime, isUndone } of edits) {
        const before = session.shot;
        const notesBefore = session.notes;
        const { node, channel, frames, values } = before.curves[curve];
        const key = Math.floor(where * frames.length);
        const place = { node, channel, frame: frames[key] };
        // A key that lands on another one is refused: then nothing has changed.
        if (inTime) session.edit([{ ...place, kind: "move", toFrame: frames[key] + (by < 0 ? -1 : 1) }]);
        else {
          const size = channel.startsWith("rotation") ? 60 : 0.4;
          session.edit([{ ...place, kind: "set", value: values[key] + size * by }]);
        }
        expectFresh(session, settings);
        if (!isUndone) continue;
        session.replace(before);
        expect(session.notes).toStrictEqual(notesBefore);
      }
    }),
    { numRuns: 4 },
  );
});
