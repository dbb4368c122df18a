import { describe, expect, test } from "vitest";
import { type KeyEdit, tryEditShot } from "../../../packages/core/document/edit.ts";
import type { Channel, Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { keyChanges } from "../../../packages/core/session/changes.ts";
import { isRebuilt, movesIn } from "../../../packages/core/session/moves.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { bipedDocument, everyFrame } from "../../support/shots.ts";

const settings = resolveSettings(registry);
const keyed = [1, 9, 17, 25, 33, 41].map((frame): [number, number] => [frame, (frame * 7) % 30]);
const limb = ["thigh_l rotation.x", "shin_l rotation.x", "foot_l rotation.x"];
const shot = shotFrom(
  bipedDocument({
    "upper_arm_l rotation.x": { interpolation: "smooth", keys: keyed },
    "spine rotation.x": everyFrame(1, 41, (frame) => Math.sin(frame / 6)),
    "spine rotation.z": everyFrame(1, 41, (frame) => Math.sin(frame / 6)),
    "hand_l rotation.x": { interpolation: "smooth", keys: keyed },
    "hand_l rotation.z": { interpolation: "smooth", keys: keyed },
    "spine rotation.y": { interpolation: "smooth", keys: keyed },
    "chest rotation.y": { interpolation: "smooth", keys: keyed },
    "neck rotation.y": { interpolation: "smooth", keys: keyed },
    "head rotation.y": { interpolation: "smooth", keys: keyed },
    ...Object.fromEntries(limb.map((name) => [name, { interpolation: "smooth" as const, keys: keyed }])),
  }),
);

function shotFrom(document: CurveDocument): Shot {
  const read = shotOf(document).shot;
  if (read === null) throw new Error("The document is no shot.");
  return read;
}

const rigged = studyOf(shot, settings);

function movesOf(edits: readonly KeyEdit[]) {
  const { shot: after, problems } = tryEditShot(shot, edits);
  expect(problems).toEqual([]);
  return movesIn(studyOf(shot, settings), { before: shot, after }, keyChanges(shot, after, edits));
}

const arm = { node: "upper_arm_l", channel: "rotation.x" as Channel };
const at = (frame: number, by = 5): KeyEdit => ({
  kind: "set",
  ...arm,
  frame,
  value: (keyed.find(([one]) => one === frame)?.[1] ?? 0) + by,
});

describe("what is done to a key", () => {
  test.each<[string, KeyEdit[], string, string]>([
    [
      "in time",
      [{ kind: "move", ...arm, frame: 17, toFrame: 19 }],
      "key in time",
      "upper_arm_l rotation.x: key 17 → 19",
    ],
    ["in value", [at(17)], "key in value", "upper_arm_l rotation.x: key 17: 29 → 34"],
    ["out", [{ kind: "remove", ...arm, frame: 17 }], "key out", "upper_arm_l rotation.x: key 17 out"],
    [
      "in as a breakdown",
      [{ kind: "set", ...arm, frame: 21, value: 4 }],
      "breakdown",
      "upper_arm_l rotation.x: breakdown in at 21, 4",
    ],
  ])("%s is told with its node, channel and frames", (_, edits, kind, text) => {
    const moves = movesOf(edits);
    expect(moves.map((move) => [move.kind, move.text])).toEqual([[kind, text]]);
    expect(isRebuilt(rigged, moves)).toBe(false);
  });
});

describe("many keys", () => {
  test("that go by as many frames are slid, in one move", () => {
    const moves = movesOf(
      keyed.slice(1, 6).map(([frame]) => ({ kind: "move", ...arm, frame, toFrame: frame + 2 })),
    );
    expect(moves.map(({ kind, keys }) => [kind, keys])).toEqual([["slide", 5]]);
    expect(moves[0].text).toContain("slid by +2 frames");
    expect(isRebuilt(rigged, moves)).toBe(false);
  });

  test("that are taken to one side and back are one offset; any other new course of them is a span keyed anew", () => {
    const spine = (value: (i: number) => number): KeyEdit[] =>
      Array.from({ length: 9 }, (_, i) => ({
        kind: "set",
        node: "spine",
        channel: "rotation.x",
        frame: 12 + i,
        value: Math.sin((12 + i) / 6) + value(i),
      }));
    const offset = movesOf(spine((i) => Math.sin((Math.PI * (i + 1)) / 10)));
    expect(offset.map(({ kind }) => kind)).toEqual(["offset"]);
    expect(isRebuilt(rigged, offset)).toBe(false);
    const anew = movesOf(spine((i) => (i % 2 === 0 ? 1 : -1)));
    expect(anew.map(({ kind }) => kind)).toEqual(["rebuilt span"]);
    expect(isRebuilt(rigged, anew)).toBe(true);
  });

  test("on every frame that show the same course at other times are slid, in one move", () => {
    const warp = (frame: number) => frame - 3 * Math.sin((Math.PI * (frame - 3)) / 36) ** 2;
    const later = movesOf(
      Array.from({ length: 36 }, (_, i) => ({
        kind: "set",
        node: "spine",
        channel: "rotation.x",
        frame: 3 + i,
        value: Math.sin(warp(3 + i) / 6),
      })),
    );
    expect(later.map(({ kind }) => kind)).toEqual(["slide"]);
    expect(isRebuilt(rigged, later)).toBe(false);
  });

  test("of which more than two come into a curve are a span keyed anew", () => {
    const added = [19, 21, 23].map((frame): KeyEdit => ({ kind: "set", ...arm, frame, value: 3 }));
    expect(isRebuilt(rigged, movesOf(added.slice(0, 2)))).toBe(false);
    expect(isRebuilt(rigged, movesOf(added))).toBe(true);
  });

  test("of more than three parts are no correction any more; a chain of joints is one part", () => {
    const turned = (nodes: readonly string[]) =>
      movesOf(nodes.map((node) => ({ kind: "set", node, channel: "rotation.y", frame: 17, value: 1 })));
    expect(isRebuilt(rigged, turned(["spine", "chest", "neck", "head"]))).toBe(false);
    const ends = ["upper_arm_r", "upper_arm_l", "head", "toes_l"];
    expect(isRebuilt(rigged, turned(ends.slice(1)))).toBe(false);
    expect(isRebuilt(rigged, turned(ends))).toBe(true);
  });

  test("of a long chain are one pose where they stand at one frame, and no correction over more", () => {
    const rope: CurveDocument = {
      ...bipedDocument({}),
      figures: [],
      nodes: Array.from({ length: 8 }, (_, i) => ({
        id: `joint_${i}`,
        ...(i > 0 ? { parent: `joint_${i - 1}` } : {}),
        translation: [0, -0.1, 0] as [number, number, number],
      })),
      curves: [],
    };
    const chain = shotFrom(rope);
    const keysAt = (...frames: number[]): KeyEdit[] =>
      rope.nodes.flatMap(({ id }) =>
        frames.map((frame): KeyEdit => ({ kind: "set", node: id, channel: "rotation.y", frame, value: 1 })),
      );
    const isAnew = (edits: readonly KeyEdit[]) => {
      const { shot: after } = tryEditShot(chain, edits);
      const study = studyOf(chain, settings);
      return isRebuilt(study, movesIn(study, { before: chain, after }, keyChanges(chain, after, edits)));
    };
    expect(isAnew(keysAt(17))).toBe(false);
    expect(isAnew(keysAt(17, 19))).toBe(true);
  });

  test("of a limb's joints are one move of the limb, which is named as people call it", () => {
    const moves = movesOf(
      limb.map((name) => {
        const [node, channel] = name.split(" ") as [string, Channel];
        return { kind: "set", node, channel, frame: 17, value: 2 };
      }),
    );
    expect(moves).toHaveLength(1);
    expect(moves[0]).toMatchObject({ kind: "limb", keys: 3, channel: null });
    expect(moves[0].text).toBe("left leg solved anew frames 17 to 17");
  });
});

test("poses of a joint that are all turned anew are one move; one axis alone, or keys on every frame, are keyed anew", () => {
  const turned = (node: string, channels: readonly Channel[], frames: readonly number[]) =>
    movesOf(
      channels.flatMap((channel) =>
        frames.map(
          (frame, i): KeyEdit => ({ kind: "set", node, channel, frame, value: i % 2 === 0 ? 40 : -40 }),
        ),
      ),
    );
  const [posed, ...others] = turned("hand_l", ["rotation.x", "rotation.z"], [1, 9, 17, 25, 33]);
  expect(others).toEqual([]);
  expect([posed.kind, posed.keys, posed.channel]).toEqual(["offset", 10, null]);
  expect(posed.text).toBe("hand_l: 10 keys turned anew where they stand, frames 1 to 33");
  expect(turned("hand_l", ["rotation.x"], [1, 9, 17, 25, 33]).map(({ kind }) => kind)).toEqual([
    "rebuilt span",
  ]);
  const onEach = turned("spine", ["rotation.x", "rotation.z"], [1, 2, 3, 4, 5]);
  expect(onEach.map(({ kind }) => kind)).toEqual(["rebuilt span", "rebuilt span"]);
});

test("keys of a limb's joints that all go by as many frames are slid, in one move of the limb", () => {
  const slid = (isEven: boolean) =>
    movesOf(
      limb.flatMap((name) => {
        const [node, channel] = name.split(" ") as [string, Channel];
        return [17, 25].map(
          (frame): KeyEdit => ({
            kind: "move",
            node,
            channel,
            frame,
            toFrame: frame + (isEven ? 2 : frame === 17 ? 1 : 2),
          }),
        );
      }),
    );
  expect(slid(true).map(({ kind, text }) => [kind, text])).toEqual([
    ["slide", "left leg: 6 keys slid by +2 frames, frames 17 to 27"],
  ]);
  expect(slid(false).map(({ kind }) => kind)).toEqual(["limb"]);
});

describe("what is done to many keys of a curve", () => {
  const setAll = (value: (was: number, index: number) => number, channel: Channel = "rotation.x") =>
    keyed.map(
      ([frame, was], index): KeyEdit => ({ kind: "set", ...arm, channel, frame, value: value(was, index) }),
    );
  const told = (edits: readonly KeyEdit[]) => movesOf(edits).map((move) => [move.kind, move.text]);

  test("is one move where all are raised by the same, or mirrored, as a pose is read in other angles", () => {
    expect(told(setAll((was) => was + 180))).toEqual([
      ["offset", "upper_arm_l rotation.x: 6 keys all raised by 180, frames 1 to 41"],
    ]);
    expect(told(setAll((was) => 180 - was))).toEqual([
      ["offset", "upper_arm_l rotation.x: 6 keys all mirrored about 90, frames 1 to 41"],
    ]);
  });

  test("is two moves where they go to one side and then to the other, and a span keyed anew beyond that", () => {
    const sides = (by: readonly number[]) =>
      told(setAll((was, index) => was + by[index])).map(([kind]) => kind);
    expect(sides([0, 4, 6, 3, -5, -2])).toEqual(["offset", "offset"]);
    expect(sides([4, -4, 4, -4, 4, -4])).toEqual(["rebuilt span"]);
  });

  test("is a breakdown on a channel that had none, with a key on either side that holds it; four keys are a span", () => {
    const hump = (frames: readonly number[]) =>
      frames.map(
        (frame, index): KeyEdit => ({ kind: "set", ...arm, channel: "rotation.z", frame, value: index % 2 }),
      );
    expect(told(hump([9, 15, 21]))).toEqual([
      ["breakdown", "upper_arm_l rotation.z: breakdown in at 15, 1, held at 9 and 21"],
    ]);
    expect(told(hump([9, 15, 21, 27])).map(([kind]) => kind)).toEqual(["rebuilt span"]);
  });
});
