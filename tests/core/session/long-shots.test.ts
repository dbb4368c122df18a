import fc from "fast-check";
import { expect, test, vi } from "vitest";
import type { KeyEdit } from "../../../packages/core/document/edit.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { ShotSession } from "../../../packages/core/session/shot-session.ts";
import { bipedDocument } from "../../support/shots.ts";
import { audited, expectFresh } from "./fresh.ts";
import { chosenSettings } from "./random-edits.ts";

// A fresh check after each edit of a long shot takes its time on a busy machine.
vi.setConfig({ testTimeout: 600_000 });

const settings = chosenSettings[0];

/** Two walkers of other paces, with a key every 12 frames. */
const shot = longShot(360);

function longShot(last: number): Shot {
  const figures = [0, 1].map((index) => {
    const wave = (size: number, base: number, shift: number) =>
      Array.from({ length: last / 12 + 1 }, (_, k): [number, number] => {
        return [1 + 12 * k, base + size * Math.sin(shift + (1.1 + 0.3 * index) * k)];
      });
    const document = bipedDocument(
      {
        "hips translation.y": wave(0.04, 0.95, index),
        "hips translation.x": wave(0.05, 2 * index, 1),
        "hips rotation.y": wave(6, 0, 2),
        "upper_arm_l rotation.z": wave(20, -60, 0),
        "forearm_l rotation.x": wave(15, 0, 1),
        "thigh_r rotation.x": wave(20, 0, 3),
      },
      { range: [1, last] },
    );
    const named = (id: string) => `${id}_${index}`;
    const nodes = document.nodes.map((node) => ({
      ...node,
      id: named(node.id),
      ...(node.parent === undefined ? {} : { parent: named(node.parent) }),
    }));
    const curves = document.curves.map((curve) => ({ ...curve, node: named(curve.node) }));
    return { document, nodes, curves };
  });
  const { figures: _, ...document } = figures[0].document;
  const { shot } = shotOf({
    ...document,
    nodes: figures.flatMap(({ nodes }) => nodes),
    curves: figures.flatMap(({ curves }) => curves),
  });
  if (shot === null) throw new Error("the document cannot be used");
  return shot;
}

/** One stroke of an animator's hand: some keys side by side, dragged in a number of steps. */
const anyStroke = fc.record({
  curve: fc.nat(shot.curves.length - 1),
  /** Where in the shot, from its first frame (0) to its last (1). */
  where: fc.double({ min: 0, max: 1, noNaN: true }),
  keys: fc.integer({ min: 1, max: 5 }),
  steps: fc.integer({ min: 1, max: 3 }),
  by: fc.double({ min: -1, max: 1, noNaN: true }),
  isUndone: fc.boolean(),
});

test("a session on a long shot of two figures holds what a fresh check gives, through drags anywhere and their undoing", () => {
  fc.assert(
    fc.property(fc.array(anyStroke, { minLength: 2, maxLength: 3 }), (strokes) => {
      const session = audited(shot, settings);
      for (const { curve: index, where, keys, steps, by, isUndone } of strokes) {
        const before = session.shot;
        const notesBefore = session.notes;
        const { node, channel, frames, values } = before.curves[index];
        const first = Math.min(frames.length - keys, Math.floor(where * frames.length));
        const size = channel.startsWith("rotation") ? 40 : 0.3;
        for (let step = 1; step <= steps; step++) {
          const edits = Array.from({ length: keys }, (_, k): KeyEdit => {
            const value = values[first + k] + (size * by * step) / steps;
            return { kind: "set", node, channel, frame: frames[first + k], value };
          });
          expect(session.edit(edits).problems).toEqual([]);
        }
        expectFresh(session, settings);
        if (!isUndone) continue;
        session.replace(before);
        expect(session.notes).toStrictEqual(notesBefore);
      }
    }),
    { numRuns: 2 },
  );
});

/** What an edit of a key in the middle of the hips' height makes anew, and what it keeps. */
function workOfHipsEdit(shot: Shot) {
  const session = new ShotSession(shot, settings);
  const { work } = session.study.memo;
  const curve = shot.curves.findIndex(
    ({ node, channel }) => node === "hips_0" && channel === "translation.y",
  );
  const { node, channel, frames, values } = shot.curves[curve];
  const key = frames.length >> 1;
  Object.assign(work, { cells: 0, pieces: 0, keptPieces: 0 });
  session.edit([{ kind: "set", node, channel, frame: frames[key], value: values[key] + 0.01 }]);
  return { ...work };
}

test("causes are tried again for those faults alone that an edit reaches, however long the shot is", () => {
  const short = workOfHipsEdit(longShot(240));
  const long = workOfHipsEdit(longShot(1920));
  expect(long.pieces).toBeLessThanOrEqual(1.5 * short.pieces + 5);
  expect(long.keptPieces).toBeGreaterThan(4 * short.keptPieces);
});
