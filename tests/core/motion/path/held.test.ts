import { describe, expect, test } from "vitest";
import { heldOf, onTwosOf } from "../../../../packages/core/motion/path/held.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import {
  chainDocument,
  everyFrame,
  type Keyed,
  type Keys,
  pointDocument,
  studyOf,
} from "../../../support/shots.ts";

const steps = (...keys: Keys): Keyed => ({ interpolation: "step", keys });
const everyNth = (nth: number, last: number): Keyed =>
  steps(
    ...Array.from({ length: Math.floor(last / nth) + 1 }, (_, i): Keys[number] => [nth * i, Math.sin(i)]),
  );
const heldIn = (channels: Record<string, Keyed>, range: [number, number]) => {
  const study = studyOf(pointDocument(channels, { range }));
  return { held: [...heldOf(study, 0)], onTwos: onTwosOf(study, 0) };
};

describe("held samples", () => {
  test("on twos every second sample repeats the one before", () => {
    const { held, onTwos } = heldIn({ "translation.x": everyNth(2, 24) }, [0, 23]);
    expect(held).toEqual(Array.from({ length: 24 }, (_, i) => i % 2));
    expect(onTwos).toBe(2);
  });

  test("poses that stay for longer than threes are holds, and tell nothing of a pose rate", () => {
    expect(heldIn({ "translation.x": everyNth(4, 48) }, [0, 47]).onTwos).toBe(1);
  });

  test.each([1, 3])("a pose that is shown for %i samples", (nth) => {
    expect(heldIn({ "translation.x": everyNth(nth, 48) }, [0, 47]).onTwos).toBe(nth);
  });

  test("what another channel moves is not held", () => {
    const channels = { "translation.x": everyNth(2, 24), "translation.y": everyFrame(0, 24, (f) => f) };
    const { held, onTwos } = heldIn(channels, [0, 23]);
    expect(held.some((value) => value === 1)).toBe(false);
    expect(onTwos).toBe(1);
  });

  test("a flat channel beside it does not matter", () => {
    const channels: Record<string, Keyed> = {
      "translation.x": everyNth(2, 24),
      "translation.y": [
        [0, 3],
        [24, 3],
      ],
    };
    expect(heldIn(channels, [0, 23]).onTwos).toBe(2);
  });

  test("linear keys hold nothing, though values repeat, nor does what has no keys", () => {
    const flat: Keyed = [
      [0, 1],
      [6, 1],
      [9, 2],
    ];
    expect(heldIn({ "translation.x": flat }, [0, 12]).held.some((value) => value === 1)).toBe(false);
    expect(heldIn({}, [0, 12])).toEqual({ held: new Array(13).fill(0), onTwos: 1 });
  });

  test("before the first and after the last key a curve stays but is not held", () => {
    const { held } = heldIn({ "translation.x": steps([3, 1], [6, 2]) }, [0, 9]);
    expect(held).toEqual([0, 0, 0, 0, 1, 1, 0, 0, 0, 0]);
  });

  test("a node is held only where what carries it is held too", () => {
    const swing = (keys: Keyed) => ({ "joint_1 rotation.z": keys, "joint_2 rotation.z": everyNth(2, 24) });
    const tipOf = (keys: Keyed) => {
      const study = studyOf(chainDocument(2, swing(keys), { range: [0, 23] }));
      return onTwosOf(study, rigOf(study).indexOf.get("tip") ?? -1);
    };
    expect(tipOf(everyNth(2, 24))).toBe(2);
    expect(tipOf(everyFrame(0, 24, (frame) => frame))).toBe(1);
  });

  test.each([1, 2])("%i samples", (count) => {
    const { held, onTwos } = heldIn({ "translation.x": everyNth(2, 4) }, [0, count - 1]);
    expect(held).toEqual([0, 1].slice(0, count));
    expect(onTwos).toBe(1);
  });

  test("a very deep chain is no trouble", () => {
    const nodes = Array.from({ length: 3000 }, (_, i) => ({
      id: `n${i}`,
      ...(i === 0 ? {} : { parent: `n${i - 1}` }),
    }));
    const document = pointDocument({});
    const study = studyOf({
      ...document,
      nodes,
      curves: [
        {
          node: "n0",
          channel: "translation.x",
          interpolation: "step",
          keys: [
            [0, 1],
            [2, 2],
            [4, 3],
          ],
        },
      ],
    });
    expect([...heldOf(study, 2999)]).toEqual([0, 1, 0, 1, 0]);
  });
});
