import { deflateRawSync } from "node:zlib";
import { valueAt } from "@keyside/core";
import type { Motion } from "@keyside/player/motion";
import { toBytes } from "@keyside/player/packed";
import type { Poses } from "@keyside/player/unpack";
import { describe, expect, test } from "vitest";
import { rowsOf } from "../../packages/desk/curves/strip-rows.ts";
import type { DeskKey, DeskNote, FromDesk } from "../../packages/desk/link.ts";
import { Channels, curveFrom } from "../../packages/desk/state/channels.ts";
import { Moving } from "../../packages/desk/state/moving.ts";
import { countsText, Notes } from "../../packages/desk/state/notes.ts";
import { unitOf } from "../../packages/desk/state/words.ts";
import { curveOf } from "./curves-of.ts";

const place = { node: "arm", channel: "rotation.x", interpolation: "bezier" } as const;
const key = (frame: number, value: number, more: Partial<DeskKey> = {}): DeskKey => {
  return { frame, value, interpolation: "bezier", ...more };
};

describe("the channels", () => {
  test("keys become the curve that the document's own reading makes of them", () => {
    const curve = curveFrom({
      ...place,
      keys: [
        key(1, 0, { out: [3, 4] }),
        key(10, 5, { interpolation: "cubic", isOwn: true, in: [-2, 1], out: 0.5 }),
        key(20, 0, { in: -1 }),
      ],
    });
    const read = curveOf(
      [
        [1, 0, { out: [3, 4] }],
        [10, 5, { interpolation: "cubic", in: [-2, 1], out: 0.5 }],
        [20, 0, { in: -1 }],
      ],
      "bezier",
    );
    for (const part of ["frames", "values", "modes", "handles", "ownModes"] as const) {
      expect(curve[part]).toEqual(read[part]);
    }
    for (let frame = 0; frame < 22; frame += 0.7) expect(valueAt(curve, frame)).toBe(valueAt(read, frame));
  });

  test("keys give way to others where the desk says so; keys that were not asked for stay unknown", () => {
    const channels = new Channels();
    channels.begin([
      { ...place, count: 3 },
      { ...place, node: "leg", count: 2 },
    ]);
    channels.fill([{ ...place, keys: [key(1, 0), key(5, 1), key(9, 2)] }]);
    const before = channels.changes;
    const change = { ...place, at: 1, removed: 1, count: 4 };
    channels.change({ ...change, keys: [key(4, 7), key(6, 8)] });
    channels.change({ ...change, node: "leg", count: 3, keys: [key(4, 7), key(6, 8)] });
    expect([...(channels.curve("arm rotation.x")?.frames ?? [])]).toEqual([1, 4, 6, 9]);
    expect(channels.get("leg rotation.x")).toMatchObject({ count: 3, curve: null });
    expect(channels.changes).toBe(before);
  });

  test("a channel whose last key goes is gone, and one that gets its first key comes", () => {
    const channels = new Channels();
    channels.begin([{ ...place, count: 1 }]);
    channels.change({ ...place, at: 0, removed: 1, keys: [], count: 0 });
    expect(channels.size).toBe(0);
    channels.change({ ...place, at: 0, removed: 0, keys: [key(3, 1)], count: 1 });
    expect(channels.curve("arm rotation.x")?.values[0]).toBe(1);
    expect(channels.changes).toBe(3);
  });
});

const note = (fingerprint: string, more: Partial<DeskNote> = {}): DeskNote => ({
  ...{ fingerprint, check: "pop", tier: "major", title: "pop", part: "hand", node: "hand_r", frames: [3, 4] },
  ...{
    keys: [],
    message: "It pops.",
    suggestion: "",
    why: "",
    measured: "",
    shown: null,
    squint: null,
    also: [],
  },
  ...more,
});
const message = (
  revision: number,
  order: readonly string[],
  set: readonly DeskNote[] = [],
): Extract<FromDesk, { type: "notes" }> => {
  return { type: "notes", revision, set, order, waived: [], failures: [], points: [] };
};

describe("the notes", () => {
  test("stand in the order of the desk and keep the numbers with which they came", () => {
    const notes = new Notes();
    notes.take(message(0, ["a", "b"], [note("a"), note("b")]));
    const { came, went } = notes.take(message(1, ["c", "b"], [note("c", { check: "hitch" })]));
    expect(notes.all.map(({ number, fingerprint }) => [number, fingerprint])).toEqual([
      [3, "c"],
      [2, "b"],
    ]);
    expect([came.map(({ number }) => number), went.map(({ number }) => number)]).toEqual([[3], [1]]);
    // One that comes back is the one that it was.
    notes.take(message(2, ["a"], [note("a", { message: "It pops again." })]));
    expect(notes.all).toMatchObject([{ number: 1, message: "It pops again." }]);
  });

  test("a note that changes under the hand keeps its number, whatever its fingerprint becomes", () => {
    const notes = new Notes();
    notes.take(message(0, ["a", "b"], [note("a"), note("b", { node: "foot_l" })]));
    const { came, went } = notes.take(message(1, ["a2", "b"], [note("a2", { frames: [4, 6] })]));
    expect([came, went]).toEqual([[], []]);
    expect(notes.numbered(1)?.fingerprint).toBe("a2");
    // The same fault elsewhere is another note.
    const later = notes.take(message(2, ["a3", "b"], [note("a3", { frames: [40, 41] })]));
    expect(later.came.map(({ number }) => number)).toEqual([3]);
    expect(later.went.map(({ number }) => number)).toEqual([1]);
    // The fingerprint that comes back has its number, as nobody else has it.
    notes.take(message(3, ["a", "b"], [note("a")]));
    expect(notes.numbered(1)?.fingerprint).toBe("a");
    expect(new Set(notes.all.map(({ number }) => number)).size).toBe(2);
  });

  test("those of an older revision change nothing", () => {
    const notes = new Notes();
    notes.take(message(5, ["a"], [note("a")]));
    notes.take(message(4, ["b"], [note("b")]));
    expect(notes.all.map(({ fingerprint }) => fingerprint)).toEqual(["a"]);
    expect(notes.revision).toBe(5);
  });

  test("are counted in words", () => {
    expect(countsText([])).toBe("No notes");
    expect(countsText([note("a"), note("b", { tier: "polish" })])).toBe("2 notes: 1 major, 1 polish");
  });
});

test("on the strip no note covers another, and the first ones lie uppermost", () => {
  const at = (from: number, to: number) => ({ frames: [from, to] as const });
  const notes = [at(1, 10), at(5, 8), at(11, 20), at(9, 9), at(6, 7)];
  expect([...rowsOf(notes, 1, 2)]).toEqual([0, 1, 0, 1, -1]);
});

describe("the motion", () => {
  const grain = 0.001;
  const pack = (numbers: readonly number[], count: number) =>
    deflateRawSync(toBytes(Float64Array.from(numbers), count, grain)).toString("base64");
  /** Two points over three frames. */
  const first = [0, 1, 2, 0, 0, 0, 0, 0, 0, 5, 5, 5, 1, 1, 1, 0, 0, 0];
  const motion = {
    ...{ format: "keyside.motion", version: 1, name: "s", rate: 24, firstFrame: 1, frameStep: 1 },
    ...{ count: 3, points: 2, grain, figures: [], things: [], ground: null, camera: null, notes: [] },
    poses: pack(first, 3),
  } as const satisfies Motion;

  test("places are put in where the desk says, new points behind those that were told, in order", async () => {
    const shown: { motion: Motion; poses: Poses }[] = [];
    const moving = new Moving((motion, poses) => shown.push({ motion, poses }));
    void moving.begin(motion);
    void moving.take([{ points: [1], from: 1, to: 2, places: pack([7, 8, 1, 1, 0, 0], 2) }], null);
    await moving.take([{ points: [2], from: 0, to: 2, places: pack([1, 2, 3, 4, 5, 6, 7, 8, 9], 3) }], null);
    const last = shown.at(-1);
    expect(Array.from(last?.poses.at ?? [], (place) => Math.round(place))).toEqual([
      ...[0, 1, 2, 0, 0, 0, 0, 0, 0],
      ...[5, 7, 8, 1, 1, 1, 0, 0, 0],
      ...[1, 2, 3, 4, 5, 6, 7, 8, 9],
    ]);
    expect(last?.motion.points).toBe(3);
    expect(shown.length).toBe(3);
    expect(new Set(shown.map(({ poses }) => poses)).size).toBe(3);
  });

  test("what cannot be unpacked does not stop what follows", async () => {
    const shown: Motion[] = [];
    const moving = new Moving((motion) => shown.push(motion));
    void moving.begin(motion);
    await moving.take([{ points: [0], from: 0, to: 2, places: "AAAA" }], null).catch(() => undefined);
    await moving.take([], null);
    expect(shown.length).toBe(2);
  });
});

test("units are those of the document", () => {
  const shot = { angleUnit: "degrees", metresPerUnit: 0.01 } as never;
  expect(unitOf("rotation.x", shot)).toBe("°");
  expect(unitOf("translation.y", shot)).toBe("cm");
  expect(unitOf("translation.y", { angleUnit: "radians", metresPerUnit: 0.3 } as never)).toBe("units");
});
