import { inRadians } from "../../../base/constants.ts";
import { chairDocument } from "../../shared/examples/chairs.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame } from "../../shared/examples/keying.ts";
import { reaching } from "../../shared/examples/limbs.ts";
import { eased, g, halfStance, jumpDocument, walkDocument } from "../../shared/examples/motions.ts";
import { offBalance } from "./check.ts";

import {
  atPost,
  atWall,
  catching,
  hanging,
  held,
  hovering,
  kicking,
  leaning,
  leaping,
  lunging,
  onOneFoot,
  post,
  postCentre,
  pushed,
  sides,
  stance,
  stopping,
  takingOff,
  winged,
} from "./motions.ts";

export const offBalanceExamples = defineExamples(offBalance, {
  faulty: [
    {
      title: "someone who lifts a foot and stays over the middle",
      motion: onOneFoot(() => 0),
      right: onOneFoot(eased(2, 16, 0, halfStance)),
      // Both legs hang straight down, so that the mass lies on the middle, 10 cm beside the foot that stands, whose inner
      // edge is half of 0.055 body heights nearer. The other one is 5 cm up on frame 19.
      note: {
        node: "hips",
        frames: [20, 60],
        key: { node: "hips", channel: "translation.x" },
        measured: halfStance - (0.055 / 2) * 1.7,
      },
    },
    {
      title: "a stop that no sole can grip",
      motion: stopping(4),
      right: stopping(40),
      // The mean over five frames takes in all of the 3 m/s at frame 32, and five eighths, a friction of 0.92, at frames
      // 30 and 34.
      note: {
        node: "hips",
        frames: [30, 34],
        key: { node: "hips", channel: "translation.z" },
        measured: 3 / (5 / 24) / g,
      },
    },
    {
      title: "a body on one foot that hangs over beside it",
      motion: post(12),
      right: post(3),
      // Shin and seat weigh by the cubes of their lengths, as a body of one build does. From half of its way out on, frame
      // 45, what brakes it presses farther out than it is; until half of its way back, frame 75, so does what draws it.
      note: {
        node: "foot",
        frames: [45, 75],
        key: { node: "shin", channel: "rotation.z" },
        measured: postCentre * Math.sin(inRadians(12)),
      },
      unfixed: "what turns it stands on the foot: no shift of the hips brings the mass back",
    },
    {
      title: "a pose in step keys, held for a quarter of a second, that its feet cannot hold",
      motion: hanging(6),
      right: hanging(6, true),
      note: {
        node: "hips",
        frames: [21, 26],
        key: { node: "hips", channel: "translation.z" },
        // The mass is 0.3165 m ahead of the ankles; a sole ends three quarters of 0.152 body heights ahead, the toes 0.21 m.
        measured: 0.1065,
      },
    },
    {
      title:
        "a pose on one leg in step keys, with the weight between the feet, before the other foot is set down again",
      motion: kicking(0),
      right: kicking(halfStance),
      note: {
        node: "hips",
        frames: [21, 28],
        key: { node: "hips", channel: "translation.x" },
        measured: halfStance - (0.055 / 2) * 1.7,
      },
    },
    {
      title: "someone who rises from a chair with the weight behind the feet",
      motion: () => chairDocument({ seat: 0.42, rises: "behind the feet", as: "prop" }),
      right: () => chairDocument({ seat: 0.42, rises: "over the feet", as: "prop" }),
      note: {
        node: "hips",
        // On frame 104 the hips have risen by 0.03 body heights; what carries has to do so for two frames. On frame 138 the
        // mass comes over the heels.
        frames: [106, 137],
        key: { node: "hips", channel: "translation.z" },
        // By de Leva's table: 36 cm behind the ankles 0.603 of the mass, the thighs' 23, the shins' 2 cm behind, the feet's 5
        // ahead; the heels end a quarter of a sole behind the ankles.
        measured: 0.2825 - 0.25 * 0.152 * 1.7,
      },
    },
    {
      title: "someone who lets an upright body down on a chair behind the feet",
      motion: () => chairDocument({ seat: 0.42, rises: "over the feet", sits: "upright", as: "prop" }),
      right: () => chairDocument({ seat: 0.42, rises: "over the feet", as: "prop" }),
      note: {
        node: "hips",
        // On frame 22 the mass is 6 cm behind the heels. The thighs are down on the seat on frame 53: for the last five frames
        // the hips come down as fast as a body topples.
        frames: [22, 47],
        key: { node: "hips", channel: "translation.z" },
        // As on the way up: 36 cm behind the ankles, 0.8 m high for most of the time.
        measured: 0.2825 - 0.25 * 0.152 * 1.7,
      },
    },
  ],
  silent: [
    { title: "someone who stands", motion: () => stance(() => [0, 0.9, 0]) },
    {
      title: "someone who sways",
      motion: () => stance((frame) => [0.05 * Math.sin(frame / 8), 0.9, 0.04 * Math.sin(frame / 7)]),
    },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a quick walk", motion: () => walkDocument({ stepFrames: 9, stepLength: 0.6 }) },
    { title: "a jump forward", motion: () => jumpDocument({ forward: 1 }) },
    { title: "a lean within the feet", motion: () => stance(leaning(0.2)) },
    {
      title: "a step that comes in time",
      motion: () => stance(leaning(0.34), {}, catching),
      unexcused: () => stance(leaning(0.34)),
    },
    {
      title: "a lean ahead from which the body takes off",
      motion: leaping,
      unexcused: () => stance(leaning(0.36)),
    },
    { title: "a declared contact of a hand", motion: held, unexcused: () => ({ ...held(), contacts: [] }) },
    {
      title:
        "a step that lands beyond the body in the direction of its fall, while the body is still beside it",
      motion: lunging(true),
      unexcused: lunging(false),
    },
    {
      title: "a hand that rests on a wall that is declared",
      motion: atWall(0.01),
      unexcused: atWall(0.3),
    },
    {
      title: "a hand that holds on to a post",
      motion: atPost(0.05),
      unexcused: atPost(0.3),
    },
    {
      title: "a figure whose wings beat",
      motion: winged(30),
      unexcused: winged(0),
    },
    { title: "a body on one foot that sways over it", motion: post(3) },
    {
      title: "someone over the middle of two feet, one of which hovers: that is no fault of the balance",
      motion: hovering(0.08, () => 0),
      unexcused: onOneFoot(() => 0),
    },
    {
      title: "a body that sits",
      motion: () => stance(() => [0, 0.5, -0.4]),
      unexcused: () => stance(() => [0, 0.86, -0.4]),
    },
    {
      title: "someone who sits down on a high chair, leans back, and rises with the weight over the feet",
      motion: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "prop" }),
      unexcused: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "nothing" }),
    },
    {
      title: "the same on a surface with edges",
      motion: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "surface" }),
      unexcused: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "nothing" }),
    },
    {
      // The hips' joint is over 0.6 of the leg's length, the joints of the thighs are not: they lie nearly level.
      title: "a body that sits as high as its shins are long",
      motion: () => stance(() => [0, 0.605, -0.4]),
      unexcused: () => stance(() => [0, 0.68, -0.4]),
    },
    {
      title: "a pose on the way, which step keys hold for five frames",
      motion: hanging(5),
      unexcused: hanging(6),
    },
    {
      title: "a pose in step keys in which the body falls onto the foot of the next one",
      motion: hanging(6, true),
      unexcused: hanging(6),
    },
    {
      title: "a pose on one leg in step keys, with the weight over it",
      motion: kicking(halfStance),
      unexcused: kicking(0),
    },
    {
      title: "a body in step keys that is on its way through a pose",
      motion: kicking(0, -0.12, 0.12),
      unexcused: kicking(0),
    },
    {
      title: "a pose of step keys from which the body takes off",
      motion: takingOff(0.5),
      unexcused: takingOff(0),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [112, 136],
    slip: "after the landing the hips are pushed out over nothing, 28 cm to the side, and stay there",
    edits: [
      (shot) => [
        ...onEveryFrame(shot, "hips", "translation.x", 104, 136, (x, frame) => x + 28 * pushed(frame)),
        ...onEveryFrame(shot, "hips", "translation.y", 104, 136, (y, frame) => y - 8 * pushed(frame)),
      ],
      (shot, before) =>
        sides.flatMap((side) =>
          reaching(
            shot,
            { limb: [`thigh_${side}`, `shin_${side}`, `foot_${side}`], frames: [104, 136] },
            before,
          ),
        ),
    ],
  },
  picture: { draws: "figure", seen: "front", at: [48], mass: true },
});
