import { describe, expect, test } from "vitest";
import { switchedOf } from "../../../../packages/core/motion/path/step-change.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { chainDocument, everyFrame, type Keyed, notesOfCheck, studyOf } from "../../../support/shots.ts";

const step = (keys: [number, number][]): Keyed => ({ interpolation: "step", keys });
/** A lid that is open for long and closed for two frames, twice. */
const blink = step([
  [1, 0],
  [14, 40],
  [16, 0],
  [31, 40],
  [33, 0],
  [48, 0],
]);
const twos = step(Array.from({ length: 24 }, (_, i): [number, number] => [1 + 2 * i, i === 12 ? 40 : 2 * i]));

describe("switched poses", () => {
  const flags = (keyed: Keyed, node: string) => {
    const study = studyOf(
      chainDocument(2, { "joint_1 rotation.z": everyFrame(1, 48, (f) => f), "joint_2 rotation.z": keyed }),
    );
    return [...switchedOf(study, rigOf(study).indexOf.get(node) ?? -1)].flatMap((flag, i) =>
      flag === 1 ? [i + 1] : [],
    );
  };

  test("are found at the step keys of the node and of those above it", () => {
    expect(flags(blink, "joint_2")).toEqual([14, 16, 31, 33, 48]);
    expect(flags(blink, "tip")).toEqual([14, 16, 31, 33, 48]);
    expect(flags(blink, "joint_1")).toEqual([]);
  });

  test("are none where the motion is held on twos, or nothing is stepped", () => {
    expect(flags(twos, "joint_2")).toEqual([]);
    expect(
      flags(
        everyFrame(1, 48, (f) => f),
        "joint_2",
      ),
    ).toEqual([]);
  });

  test("are no pops, but a pose off its path on twos is", () => {
    const pops = (keyed: Keyed) =>
      notesOfCheck(
        chainDocument(2, { "joint_1 rotation.z": everyFrame(1, 48, (f) => f), "joint_2 rotation.z": keyed }),
        "pop",
      );
    expect(pops(blink)).toEqual([]);
    expect(notesOfCheck(chainDocument(1, { "joint_1 rotation.z": twos }), "pop")).toHaveLength(1);
  });
});
