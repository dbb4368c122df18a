import { describe, expect, test } from "vitest";
import { posesOf, travelPaceOf, turnPaceOf } from "../../../../packages/core/motion/path/pace.ts";
import { spacingOf } from "../../../../packages/core/motion/path/spacing.ts";
import { chainDocument, type Keyed, pathDocument, pointDocument, studyOf } from "../../../support/shots.ts";

const stepped = (keys: [number, number][]): Keyed => ({ interpolation: "step", keys });

describe("pace", () => {
  test("of motion on every frame is its spacing", () => {
    const study = studyOf(pathDocument(1, 30, (frame) => [0.01 * frame * frame, 0, 0]));
    expect(travelPaceOf(study, 0).steps).toBe(spacingOf(study, 0));
    expect(posesOf(study, 0)).toHaveLength(30);
  });

  test("of motion on twos is the travel per frame, one number per pose", () => {
    const keys = Array.from({ length: 10 }, (_, i): [number, number] => [1 + 2 * i, 0.06 * i]);
    const study = studyOf(pointDocument({ "translation.x": stepped(keys) }, { range: [1, 19] }));
    const { poses, steps } = travelPaceOf(study, 0);
    expect([...poses]).toEqual([0, 2, 4, 6, 8, 10, 12, 14, 16, 18]);
    for (let i = 1; i < poses.length; i++) expect(steps[i]).toBeCloseTo(0.03, 12);
  });

  test("counts a pose that is held for longer than threes as a rest, as long as the next one is shown", () => {
    const study = studyOf(
      pointDocument(
        {
          "translation.x": stepped([
            [1, 0],
            [3, 0.06],
            [13, 0.12],
            [15, 0.18],
          ]),
        },
        { range: [1, 15] },
      ),
    );
    const { poses, steps } = travelPaceOf(study, 0);
    expect([...poses]).toEqual([0, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14]);
    expect(steps[10]).toBeCloseTo(0.03, 12);
    expect([...steps.subarray(2, 10)]).toEqual([0, 0, 0, 0, 0, 0, 0, 0]);
  });

  test("of turning is the angle per frame, and a node without a turn of its own shares its parent's", () => {
    const study = studyOf(
      chainDocument(2, {
        "joint_1 rotation.z": [
          [1, 0],
          [19, 90],
        ],
      }),
    );
    const { steps } = turnPaceOf(study, 1);
    for (let i = 1; i < steps.length; i++) expect(steps[i]).toBeCloseTo((5 * Math.PI) / 180, 12);
    expect(turnPaceOf(study, 2)).toBe(turnPaceOf(study, 1));
  });
});
