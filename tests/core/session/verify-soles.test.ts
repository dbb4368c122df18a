import { describe, expect, test } from "vitest";
import type { Note } from "../../../packages/core/faults/note.ts";
import { flightsOf } from "../../../packages/core/motion/body/flight.ts";
import { rolledOver } from "../../../packages/core/session/verify/rolls.ts";
import { motionOf } from "../../../packages/core/session/verify/trial.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import {
  type Foot,
  jumpDocument,
  type Motion,
  motionDocument,
  rolled,
  standing,
} from "../../support/bodies.ts";
import { eased } from "../../support/shots.ts";
import { objection, set, settings, shotFrom } from "./objections.ts";

const pitch = (frame: number) => eased(20, 40, 0, 35)(frame);
/** A body that stands, and rises over the ball of its right foot. */
const rising: Motion = {
  first: 1,
  last: 60,
  hips: (frame) => [0, 0.86 + eased(20, 40, 0, 0.02)(frame), 0],
  left: () => standing("left"),
  right: (frame): Foot => rolled("right", 0, pitch(frame)),
};
const document = motionDocument(rising);
const shot = shotFrom(document);
const note = {
  check: "pop",
  figure: "walker",
  node: "hips",
  seenAt: [],
  keys: [],
  frames: [30, 30],
} as unknown as Note;

/** Keys of another motion of the same body over some frames. */
function keysOf(motion: Motion, from: number, to: number) {
  return shotFrom(motionDocument(motion)).curves.flatMap(({ node, channel, frames, values }) =>
    [...frames].flatMap((frame, key) =>
      frame >= from && frame <= to ? [set(node, channel, frame, values[key])] : [],
    ),
  );
}

/** The body with its right foot lifted by so much, metres, around a frame. */
const lifted = (by: number): Motion => ({
  ...rising,
  right: (frame) => {
    const foot = rising.right(frame);
    const way = frame === 30 ? by : 0;
    return { ...foot, at: [foot.at[0], foot.at[1] + way, foot.at[2]] };
  },
});

describe("a sole that rests", () => {
  test("is found while the foot rolls over its ball", () => {
    const rests = motionOf(studyOf(shot, settings)).soles;
    expect(rests.some(({ from, to, figure }) => figure === 0 && from <= 20 && to >= 40)).toBe(true);
  });

  test("is pushed by no more than 3 mm in a frame: the refusal names the foot and how far", () => {
    expect(objection(shot, keysOf(lifted(0.001), 28, 32), note)).toBeNull();
    expect(objection(shot, keysOf(lifted(0.006), 28, 32), note)).toMatch(
      /^the right (foot|toes) would slide by \d+(\.\d+)? (mm|cm) over frames \d+ to \d+$/,
    );
  });

  test("is none at the top of a flight, where a foot is slow for a moment", () => {
    const study = studyOf(shotFrom(jumpDocument({ air: 14 })), settings);
    const flight = flightsOf(study, 0)[0];
    const rests = motionOf(study).soles.filter(
      ({ from, to }) => from > flight.from + 1 && to < flight.to - 1,
    );
    expect(flight.to - flight.from).toBeGreaterThan(8);
    expect(rests).toEqual([]);
  });
});

describe("a foot of which no sole is known", () => {
  /** Degrees by which a foot rolls over a place 12 cm before and 6 cm under its ankle from frame 20 to 30. */
  const rolls = (frame: number) => (frame <= 20 ? 0 : frame >= 30 ? 20 : 2 * (frame - 20));
  const place = [0.12, -0.06] as const;
  const ankle = (frame: number) => {
    const turn = (-rolls(frame) * Math.PI) / 180;
    const [x, y] = place;
    return [
      x - (x * Math.cos(turn) - y * Math.sin(turn)),
      0.06 + y - (x * Math.sin(turn) + y * Math.cos(turn)),
    ];
  };

  test("keeps the place that it rolls over", () => {
    const old = { position: [] as number[], orientation: [] as number[] };
    for (let frame = 1; frame <= 40; frame++) {
      const [x, y] = ankle(frame);
      old.position.push(x, y, 0);
      const half = (-rolls(frame) * Math.PI) / 360;
      old.orientation.push(0, 0, Math.sin(half), Math.cos(half));
    }
    const world = {
      position: Float64Array.from(old.position),
      orientation: Float64Array.from(old.orientation),
    };
    const found = rolledOver(world, 25, 0.2);
    expect(found).not.toBeNull();
    expect(Math.hypot(...(found ?? [0, 0, 0]))).toBeCloseTo(Math.hypot(...place), 3);
    expect(rolledOver(world, 10, 0.2)).toBeNull();
    expect(rolledOver(world, 25, 0.1)).toBeNull();
  });
});

describe("a foot that stood still before it slid", () => {
  /** The right foot stands, and goes aside by 6 cm over three frames. */
  const slipping: Motion = {
    ...rising,
    hips: () => [0, 0.86, 0],
    right: (frame): Foot => standing("right", eased(40, 43, 0, 0.06)(frame)),
  };
  const slip = shotFrom(motionDocument(slipping));
  const ofSlide = { ...note, check: "contact-slide", node: "foot_r", frames: [40, 43] } as unknown as Note;
  const standingAt = (z: number) => {
    const motion: Motion = { ...slipping, right: () => standing("right", z) };
    return shotFrom(motionDocument(motion)).curves.flatMap(({ node, channel, frames, values }) =>
      node.endsWith("_r") ? [...frames].map((frame, key) => set(node, channel, frame, values[key])) : [],
    );
  };

  test("stays where it stood", () => {
    expect(objection(slip, standingAt(0.06), ofSlide)).toMatch(
      /^the right foot would stand 6 cm beside where it stands/,
    );
    expect(objection(slip, standingAt(0), ofSlide) ?? "").not.toMatch(/beside where it stands/);
  });
});
