import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  cutsOf,
  isCutBetween,
  ownCutsOf,
  piecesOf,
  stepsWithoutCuts,
} from "../../../../packages/core/motion/path/cuts.ts";
import { movesOf, turnsOf } from "../../../../packages/core/motion/path/moves.ts";
import { travelPaceOf } from "../../../../packages/core/motion/path/pace.ts";
import { uncutSpacingOf } from "../../../../packages/core/motion/path/uncut.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import {
  chainDocument,
  everyFrame,
  type Keyed,
  type Keys,
  notesOfCheck,
  pointDocument,
  studyOf,
} from "../../../support/shots.ts";

const steps = (...keys: Keys): Keyed => ({ interpolation: "step", keys });
const pointCuts = (channels: Record<string, Keyed>, range: [number, number]) => [
  ...cutsOf(studyOf(pointDocument(channels, { range })), 0),
];
/** Poses of the given lengths, one after the other from frame 0 on, each somewhere else. */
const posed = (lengths: readonly number[]): Keyed => {
  let frame = 0;
  const keys = lengths.map((length, i): Keys[number] => {
    const key: Keys[number] = [frame, 0.3 * ((i * 7) % 5) + 0.01 * i];
    frame += length;
    return key;
  });
  return steps(...keys);
};
const cutsIn = (lengths: readonly number[]) => {
  const frames = lengths.reduce((sum, length) => sum + length, 0);
  return pointCuts({ "translation.x": posed(lengths) }, [0, frames - 1]);
};

describe("cuts from one held pose to the next", () => {
  test("are where blocked poses are switched", () => {
    expect(cutsIn([8, 7, 12, 9])).toEqual([8, 15, 27]);
  });

  test.each([1, 2, 3])("are none in motion on %is, nor where it begins and ends", (nth) => {
    expect(cutsIn(new Array(16).fill(nth))).toEqual([]);
    expect(cutsIn([9, ...new Array(8).fill(nth), 9])).toEqual([]);
  });

  test("a pose that flashes by for a frame or two is no hold, one of three frames among long ones is", () => {
    expect(cutsIn([9, 1, 9, 8])).toEqual([19]);
    expect(cutsIn([9, 2, 9, 8])).toEqual([20]);
    expect(cutsIn([9, 9, 3, 9, 8])).toEqual([9, 18, 21, 30]);
  });

  test("a key that repeats its pose switches nothing", () => {
    expect(
      pointCuts({ "translation.x": steps([0, 1], [2, 1], [8, 1], [10, 2], [12, 2], [20, 3]) }, [0, 30]),
    ).toEqual([10, 20]);
  });

  test("in a curve that is part step and part smooth are in its held part, to the switch into the smooth one", () => {
    const keyed: Keyed = {
      interpolation: "smooth",
      keys: [
        [0, 0, { interpolation: "step" }],
        [8, 1, { interpolation: "step" }],
        [16, 0],
        [24, 1],
        [32, 0],
      ],
    };
    expect(pointCuts({ "translation.x": keyed }, [0, 40])).toEqual([8, 16]);
  });

  test("of a node are those of its own curves and of all above it", () => {
    const study = studyOf(
      chainDocument(2, { "joint_1 rotation.z": posed([8, 8, 8]), "joint_2 rotation.z": posed([10, 10, 4]) }),
    );
    const tip = rigOf(study).indexOf.get("tip") ?? -1;
    const base = rigOf(study).indexOf.get("joint_1") ?? -1;
    expect([...cutsOf(study, base)]).toEqual([...ownCutsOf(study, base)]);
    expect([...cutsOf(study, tip)]).toEqual(
      [...new Set([...cutsOf(study, base), ...ownCutsOf(study, base + 1)])].sort((a, b) => a - b),
    );
    expect([...ownCutsOf(study, tip)]).toEqual([]);
  });

  test("are no moves, and no travel", () => {
    const study = studyOf(pointDocument({ "translation.x": posed([8, 7, 12, 9]) }, { range: [0, 35] }));
    expect(movesOf(study, 0)).toEqual([]);
    expect(turnsOf(study, 0)).toEqual([]);
    expect(travelPaceOf(study, 0).moves).toEqual([]);
    expect(uncutSpacingOf(study, 0).every((step) => step === 0)).toBe(true);
  });

  test("a move that a cut of what carries it goes through is two moves, of which neither stops nor starts there", () => {
    const study = studyOf(
      chainDocument(
        1,
        {
          "joint_1 translation.x": everyFrame(0, 40, (f) => 0.02 * f),
          "joint_1 translation.y": steps([0, 0], [20, 1], [40, 1]),
        },
        { range: [0, 40] },
      ),
    );
    const node = rigOf(study).indexOf.get("joint_1") ?? -1;
    const [before, after] = movesOf(study, node);
    expect([before.to, before.endsAtRest, after.from, after.startsAtRest]).toEqual([19, false, 20, false]);
    expect(uncutSpacingOf(study, node)[20]).toBeCloseTo(0.02, 12);
  });
});

describe("pieces between cuts", () => {
  test("cover all poses once, and no cut lies within one", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.nat(60), { minLength: 1 }),
        fc.uniqueArray(fc.integer({ min: 1, max: 60 })),
        (some, at) => {
          const poses = Int32Array.from(some).sort();
          const cuts = Int32Array.from(at).sort();
          const pieces = piecesOf(poses.length, poses, cuts);
          expect(
            pieces.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, i) => from + i)),
          ).toEqual(Array.from(poses, (_, i) => i));
          for (const { from, to } of pieces) expect(isCutBetween(cuts, poses[from], poses[to])).toBe(false);
          for (let k = 1; k < pieces.length; k++) {
            expect(isCutBetween(cuts, poses[pieces[k].from - 1], poses[pieces[k].from])).toBe(true);
          }
        },
      ),
    );
  });

  test("the step across a cut is the middle of those beside it, and none beside a hold", () => {
    const out = stepsWithoutCuts(Float64Array.from([0, 1, 50, 4, 0, 90, 0]), null, Int32Array.from([2, 5]));
    expect([...out]).toEqual([0, 1, 2, 4, 0, 0, 0]);
  });
});

describe("what moves between cuts is judged as ever", () => {
  /** Ten blocked poses, then a swing on every frame that shakes by 5° from frame 100 on. */
  const mixed = (shake: number): Keyed => ({
    interpolation: "linear",
    keys: [
      ...Array.from({ length: 10 }, (_, i): Keys[number] => [9 * i, 25 * (i % 2), { interpolation: "step" }]),
      ...Array.from({ length: 71 }, (_, i): Keys[number] => [
        90 + i,
        20 * Math.sin(i / 12) + (i > 20 ? shake * (i % 2) : 0),
      ]),
    ],
  });
  const jitter = (keyed: Keyed) => notesOfCheck(chainDocument(2, { "joint_1 rotation.z": keyed }), "jitter");

  test("blocked poses that go to and fro do not tremble; a shake behind them does, and is noted where it is", () => {
    expect(jitter(mixed(0))).toEqual([]);
    const [note, ...others] = jitter(mixed(5));
    expect(others).toEqual([]);
    expect(note.frames[0]).toBeGreaterThanOrEqual(105);
    expect(note.frames[1]).toBeLessThanOrEqual(160);
  });

  test("poses that shake on twos tremble", () => {
    const twos = steps(...Array.from({ length: 40 }, (_, i): Keys[number] => [2 * i, 5 * (i % 2)]));
    expect(jitter(twos)).toHaveLength(1);
  });
});
