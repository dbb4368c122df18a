import { describe, expect, test } from "vitest";
import { type KeyEdit, tryEditShot } from "../../../packages/core/document/edit.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { retimed } from "../../../packages/core/faults/shared/keying/retime.ts";
import { trackOf } from "../../../packages/core/faults/shared/keying/track.ts";
import { slidInTime, type TimeOffset } from "../../../packages/core/faults/shared/posing/part-offset.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { chainDocument, everyFrame, type Keyed } from "../../support/shots.ts";

function shotWith(keyed: Keyed) {
  const { shot } = shotOf(chainDocument(2, { "joint_1 rotation.z": keyed }, { range: [1, 60] }));
  if (shot === null) throw new Error("not a shot");
  return { shot, study: studyOf(shot, defaultSettings(registry)) };
}

const offset: TimeOffset = { from: 20, to: 40, by: 3, rampIn: 12, rampOut: 12 };
const frames = [1, 12, 22, 25, 28, 39, 41, 50, 60];
const smooth: Keyed = { interpolation: "smooth", keys: frames.map((frame) => [frame, (frame * 7) % 31]) };

describe("keys of some frames that are slid", () => {
  const edits = (keyed: Keyed, by = offset) => slidInTime(shotWith(keyed).study, [1], by);

  test("only move, all by as many frames, with those beside them that are too near", () => {
    const moves = edits(smooth);
    expect(moves.every(({ kind }) => kind === "move")).toBe(true);
    expect(moves.map(({ frame }) => frame)).toEqual([22, 25, 28, 39, 41]);
    expect(moves.every((edit) => edit.kind === "move" && edit.toFrame === edit.frame + 3)).toBe(true);
    expect(tryEditShot(shotWith(smooth).shot, moves).problems).toEqual([]);
  });

  test("go up to the next key where nothing lies between the two", () => {
    const keys = [1, 22, 39, 43, 60].map((frame): [number, number] => [frame, Math.min(frame, 39)]);
    expect(edits({ interpolation: "smooth", keys }).map(({ frame }) => frame)).toEqual([22, 39]);
  });

  test("are offset otherwise where there is no room, by parts of a frame, and on every frame", () => {
    const isSlid = (all: readonly KeyEdit[]) => all.every(({ kind }) => kind === "move");
    expect(isSlid(edits(smooth, { ...offset, rampOut: 0 }))).toBe(false);
    expect(isSlid(edits(smooth, { ...offset, by: 2.5 }))).toBe(false);
    const dense = edits(everyFrame(1, 60, (frame) => frame % 17));
    expect(dense.length).toBeGreaterThan(0);
    expect(isSlid(dense)).toBe(false);
  });
});

test("a course that comes later keeps each key that it moves, whatever key stood where it comes to", () => {
  const keyed: Keyed = {
    interpolation: "smooth",
    keys: [1, 20, 23, 26, 29, 32, 60].map((frame) => [frame, (frame * 7) % 31]),
  };
  const { study } = shotWith(keyed);
  const warp = (frame: number) =>
    frame <= 10 || frame >= 50 ? frame : frame - 3 * Math.min(1, (frame - 10) / 6, (50 - frame) / 6);
  const edits = retimed(study, trackOf(study, 1, "rotation.z"), { from: 10, to: 50 }, warp);
  const inner = edits.filter(({ frame }) => frame >= 20 && frame <= 32);
  expect(inner.filter(({ kind }) => kind === "remove")).toEqual([]);
  expect(inner.filter(({ kind }) => kind === "move").map(({ frame }) => frame)).toEqual([20, 23, 26, 29, 32]);
});
