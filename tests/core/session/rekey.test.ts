import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { angleBetween } from "../../../packages/core/base/quaternion.ts";
import type { Study } from "../../../packages/core/base/study.ts";
import { sampleCurve, valueAt } from "../../../packages/core/curve/evaluate.ts";
import { tryEditShot } from "../../../packages/core/document/edit.ts";
import type { Channel, Curve, Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { bump, smoothedCourse } from "../../../packages/core/faults/shared/keying/courses.ts";
import { laterStop } from "../../../packages/core/faults/shared/keying/eased-ends.ts";
import { keyingOf, rekeyed } from "../../../packages/core/faults/shared/keying/rekey.ts";
import { retimed } from "../../../packages/core/faults/shared/keying/retime.ts";
import { type Course, type Track, trackOf } from "../../../packages/core/faults/shared/keying/track.ts";
import { offsetWarp } from "../../../packages/core/faults/shared/posing/part-offset.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { chainDocument, everyFrame, type Keyed, type Keys } from "../../support/shots.ts";

/** A track's own course and an amount on top of it; for tracks of one number. */
function raisedCourse(track: Track, amount: (frame: number) => number): Course {
  return (frame, out) => {
    track.read(frame, out);
    out[0] += amount(frame);
  };
}

/** A chain of which the first joint has the keys given, on frames 1 to 48. */
function shotWith(keyed: Keyed | null, channel: Channel = "rotation.z"): { shot: Shot; study: Study } {
  const curves = keyed === null ? {} : { [`joint_1 ${channel}`]: keyed };
  const { shot } = shotOf(chainDocument(2, curves, { range: [1, 48] }));
  if (shot === null) throw new Error("not a shot");
  return { shot, study: studyOf(shot, defaultSettings(registry)) };
}

const waypoints: Keys = [
  [1, 0],
  [13, 30],
  [25, -10],
  [37, 25],
  [48, 25],
];
const keyings: Readonly<Record<string, Keyed>> = {
  dense: everyFrame(1, 48, (frame) => 20 * Math.sin(frame / 6)),
  linear: waypoints,
  smooth: { interpolation: "smooth", keys: waypoints },
  bezier: {
    interpolation: "bezier",
    keys: waypoints.map(([frame, value]) => [frame, value, { in: [-4, 0], out: [4, 0] }]),
  },
  cubic: { interpolation: "cubic", keys: waypoints },
};

function curveIn(shot: Shot, channel: Channel = "rotation.z"): Curve {
  const curve = shot.curves.find((one) => one.node === "joint_1" && one.channel === channel);
  if (curve === undefined) throw new Error("no curve");
  return curve;
}

describe("a channel that is to follow another course", () => {
  test.each(Object.entries(keyings))("with %s keys follows it, and stays as it is elsewhere", (_, keyed) => {
    const { shot, study } = shotWith(keyed);
    const node = 1;
    const track = trackOf(study, node, "rotation.z");
    const lifted = (frame: number) => 8 * bump(frame, 16, 20, 30);
    const edits = rekeyed(study, track, { from: 16, to: 30 }, raisedCourse(track, lifted));
    const { shot: after, problems } = tryEditShot(shot, edits);
    expect(problems).toEqual([]);
    const [before, now] = [curveIn(shot), curveIn(after)];
    // Half a millimetre at the chain's reach of 0.6 m is 0.05°, and a smooth key's neighbours give a little.
    for (let frame = 1; frame <= 48; frame++) {
      expect(Math.abs(valueAt(now, frame) - valueAt(before, frame) - lifted(frame))).toBeLessThan(0.15);
    }
    for (const { frame } of edits) expect(frame).toBe(Math.round(frame));
  });

  test("with sparse keys takes few of them", () => {
    for (const name of ["linear", "smooth", "bezier", "cubic"]) {
      const { study } = shotWith(keyings[name]);
      const track = trackOf(study, 1, "rotation.z");
      const course = raisedCourse(track, (frame) => 8 * bump(frame, 16, 20, 30));
      expect(rekeyed(study, track, { from: 16, to: 30 }, course).length).toBeLessThan(12);
    }
  });

  test("changes no key where nothing is to change", () => {
    for (const keyed of Object.values(keyings)) {
      const { study } = shotWith(keyed);
      const track = trackOf(study, 1, "rotation.z");
      expect(
        rekeyed(
          study,
          track,
          { from: 10, to: 30 },
          raisedCourse(track, () => 0),
        ),
      ).toEqual([]);
    }
  });

  test("keeps between its keys: no edit makes an overshoot", () => {
    const amounts = fc.array(fc.double({ min: -20, max: 20, noNaN: true }), { minLength: 3, maxLength: 8 });
    fc.assert(
      fc.property(amounts, (values) => {
        const { shot, study } = shotWith(keyings["bezier"]);
        const track = trackOf(study, 1, "rotation.z");
        const course = (frame: number) => {
          const at = ((frame - 4) / 40) * (values.length - 1);
          const i = Math.min(values.length - 2, Math.max(0, Math.floor(at)));
          const t = Math.min(1, Math.max(0, at - i));
          return values[i] + (values[i + 1] - values[i]) * t * t * (3 - 2 * t);
        };
        const span = { from: 4, to: 44 };
        const edits = rekeyed(study, track, span, (frame, out) => {
          out[0] = course(frame);
        });
        const curve = curveIn(tryEditShot(shot, edits).shot);
        for (let key = 0; key + 1 < curve.frames.length; key++) {
          const [a, b] = [curve.frames[key], curve.frames[key + 1]];
          // The keys that enclose the span keep what is outside of it.
          if (a < 4 || b > 44) continue;
          const [low, high] = [curve.values[key], curve.values[key + 1]].sort((x, y) => x - y);
          for (let t = 0.1; t < 1; t += 0.1) {
            const value = valueAt(curve, a + t * (b - a));
            expect(value).toBeGreaterThan(low - 0.02);
            expect(value).toBeLessThan(high + 0.02);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  test("without a curve gets one of smooth keys, at rest at both ends", () => {
    const { shot, study } = shotWith(null);
    const track = trackOf(study, 1, "rotation.y");
    const edits = rekeyed(study, track, { from: 10, to: 20 }, (frame, out) => {
      out[0] = 12 * bump(frame, 10, 15, 20);
    });
    const curve = curveIn(tryEditShot(shot, edits).shot, "rotation.y");
    expect(curve.frames.length).toBeLessThan(8);
    expect([valueAt(curve, 1), valueAt(curve, 48)]).toEqual([0, 0]);
    expect(valueAt(curve, 15)).toBeCloseTo(12, 3);
  });

  test("of turns follows it with quaternion keys", () => {
    const turn = (frame: number) => Math.sin(frame / 8) * 0.4;
    const quaternion = (angle: number): [number, number, number, number] => [
      0,
      0,
      Math.sin(angle / 2),
      Math.cos(angle / 2),
    ];
    const keys = [1, 9, 17, 25, 33, 41, 48].map((frame): Keys[number] => [frame, quaternion(turn(frame))]);
    const { shot, study } = shotWith({ interpolation: "smooth", keys }, "rotation");
    const track = trackOf(study, 1, "rotation");
    const lifted = (frame: number) => 0.3 * bump(frame, 12, 18, 30);
    const now = new Float64Array(4);
    const course = (frame: number, out: Float64Array) => {
      track.read(frame, now);
      out.set(quaternion(2 * Math.atan2(now[2], now[3]) + lifted(frame)));
    };
    const after = curveIn(
      tryEditShot(shot, rekeyed(study, track, { from: 12, to: 30 }, course)).shot,
      "rotation",
    );
    const wanted = new Float64Array(4);
    const made = new Float64Array(4);
    for (let frame = 12; frame <= 30; frame++) {
      course(frame, wanted);
      sampleCurve(after, Float64Array.of(frame), made);
      expect(angleBetween(wanted, 0, made, 0)).toBeLessThan(0.005);
    }
  });

  test("steps keep their frames", () => {
    const { shot, study } = shotWith({ interpolation: "step", keys: waypoints });
    const track = trackOf(study, 1, "rotation.z");
    expect(keyingOf(curveIn(shot), { from: 2, to: 40 }, 1)).toBe("step");
    const edits = rekeyed(
      study,
      track,
      { from: 2, to: 40 },
      raisedCourse(track, () => 5),
    );
    expect(edits.map(({ frame }) => frame)).toEqual([13, 25, 37]);
  });
});

describe("a channel that is to play at other times", () => {
  test.each(Object.entries(keyings))("with %s keys does so, and holds elsewhere", (_, keyed) => {
    const { shot, study } = shotWith(keyed);
    const track = trackOf(study, 1, "rotation.z");
    const { from, to, warp } = laterStop(25, 5);
    const { shot: after, problems } = tryEditShot(shot, retimed(study, track, { from, to }, warp));
    expect(problems).toEqual([]);
    const [before, now] = [curveIn(shot), curveIn(after)];
    for (let frame = 1; frame < 30; frame++) {
      expect(Math.abs(valueAt(now, frame) - valueAt(before, warp(frame)))).toBeLessThan(0.15);
    }
    for (let frame = 31; frame <= 48; frame++) {
      // The warp does not meet what comes behind it here, which the stretch to the next key has to make up for.
      if (frame >= 37) expect(valueAt(now, frame)).toBeCloseTo(valueAt(before, frame), 6);
    }
  });

  test("moves a sparse key to where it belongs, on a whole frame", () => {
    const keys: Keys = [
      [1, 0],
      [10, 0],
      [20, 30],
      [48, 30],
    ];
    const { study } = shotWith({ interpolation: "linear", keys });
    const { from, to, warp } = laterStop(20, 4);
    const edits = retimed(study, trackOf(study, 1, "rotation.z"), { from, to }, warp);
    expect(edits).toContainEqual(expect.objectContaining({ kind: "move", frame: 20, toFrame: 24 }));
    expect(edits.length).toBeLessThan(6);
  });
});

test("keys that all come later by as many frames bring their handles with them, also onto each other's frames", () => {
  const keys: Keys = [
    [1, 0],
    [20, 0, { out: [0.6, 9] }],
    [22, 20, { in: [-1.3, 0.5], out: [1.3, -6] }],
    [24, 3, { in: [-0.2, 4], out: [2, 7] }],
    [27, 9, { in: [-1, 2], out: [1, 2] }],
    [47, 9],
    [48, 9],
  ];
  const { shot, study } = shotWith({ interpolation: "bezier", keys });
  const span = { from: 10, to: 44 };
  const warp = offsetWarp({ from: 20, to: 34, by: 2, rampIn: 8, rampOut: 10 });
  const { shot: after, problems } = tryEditShot(
    shot,
    retimed(study, trackOf(study, 1, "rotation.z"), span, warp),
  );
  expect(problems).toEqual([]);
  for (let frame = 22; frame <= 29; frame += 0.125) {
    expect(valueAt(curveIn(after), frame)).toBeCloseTo(valueAt(curveIn(shot), frame - 2), 9);
  }
});

test("a course is smoothed, and meets itself at both ends", () => {
  const { study } = shotWith(everyFrame(1, 48, (frame) => frame + (frame % 2 === 0 ? 3 : -3)));
  const track = trackOf(study, 1, "rotation.z");
  const course = smoothedCourse(track, 10, 30, 3, 1);
  const out = new Float64Array(1);
  course(20, out);
  expect(Math.abs(out[0] - 20)).toBeLessThan(0.5);
  course(10, out);
  expect(out[0]).toBe(13);
});
