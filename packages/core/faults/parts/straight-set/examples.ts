import type { Shot } from "../../../document/model.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed, valueIn } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  bipedWithout,
  type Curves,
  eased,
  everyFrame,
} from "../../shared/examples/motions.ts";
import { straightSet } from "./check.ts";

const last = 72;
type Course = (frame: number) => number;
/** A course over the shot, as keys. */
const keyed = (course: Course) => everyFrame(1, last, course);
/** To the one side, and back to the other. */
const about: Course = (frame) => eased(10, 30, 0, 40)(frame) - eased(40, 62, 0, 70)(frame);
const still: Course = () => 0;

/** A body that looks about: hips, chest and head turn one after the other, and tilt as they are told. */
const looking = ({
  turn = 1,
  chest = still,
  head = still,
  ...more
}: {
  readonly turn?: number;
  readonly chest?: Course;
  readonly head?: Course;
  readonly more?: Curves;
} = {}) => ({
  "hips rotation.y": keyed((frame) => 0.3 * turn * about(frame - 3)),
  "chest rotation.y": keyed((frame) => 0.3 * turn * about(frame)),
  "head rotation.y": keyed((frame) => 0.4 * turn * about(frame + 3)),
  "chest rotation.z": keyed(chest),
  "head rotation.z": keyed(head),
  ...more.more,
});
const set = (options?: Parameters<typeof looking>[0]) => () => bipedDocument(looking(options));
/** A tilt by so many degrees to either side. */
const by =
  (angle: number): Course =>
  (frame) =>
    (angle / 40) * about(frame);

export const straightSetExamples = defineExamples(straightSet, {
  faulty: [
    {
      title: "a body that looks about, upright as a pole",
      motion: set(),
      right: set({ chest: by(4), head: by(-4) }),
      note: {
        node: "chest",
        frames: [1, last],
        key: { node: "chest", channel: "rotation.z" },
        measured: 0,
      },
    },
    {
      title: "a body whose chest tilts by 0.8° to the one side, then to the other",
      motion: set({ chest: (frame) => 0.8 * Math.sign(frame - 36.5) }),
      note: {
        node: "chest",
        frames: [1, last],
        key: { node: "chest", channel: "rotation.z" },
        // From the one side to the other.
        measured: 1.6,
      },
    },
  ],
  silent: [
    { title: "a body that tilts as it turns", motion: set({ chest: by(3), head: by(-3) }) },
    { title: "a body that hardly turns", motion: set({ turn: 0.1 }), unexcused: set() },
    {
      title: "a body without legs",
      motion: () => bipedWithout(/thigh|shin|foot|toes/, looking()),
      unexcused: set(),
    },
    { title: "a figure without a head", motion: () => bipedWithout(/head|neck/, looking()) },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "chest",
    frames: [1, 1],
    slip: "spine, chest, neck and head keep their turns about the upright and lose every tilt of their own",
    edits: ["spine", "chest", "neck", "head"].flatMap((node) =>
      (["rotation.x", "rotation.z"] as const).map(
        (channel) => (shot: Shot) =>
          rekeyed(shot, node, channel, [
            { ...keyAt(shot, node, channel, 1), slope: 0 },
            { frame: 136, value: valueIn(shot, node, channel, 1), slope: 0 },
          ]),
      ),
    ),
  },
  picture: { draws: "curve", node: "chest", channel: "rotation.z", also: ["rotation.y"] },
});
