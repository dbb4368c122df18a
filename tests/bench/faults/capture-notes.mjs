/**
 * Major notes on real capture that one reader has looked at and found right.
 *
 * Each was compared with the rows as they were recorded (100 or 120 a second), with the frames at 24 a second, and
 * against what the rest of the body does there. It is listed where
 * - what it says is in the recorded rows themselves and is not made by taking every so many of them,
 * - nothing that the check's page excuses explains it (a roll, a swivel, a step, an impact, a jump, one thing held), and
 * - the part, the frames and the size that it names are those of what is seen there.
 * A major note that is not listed counts as false. Thresholds are not touched for what stands here.
 */

/**
 * @typedef {object} Looked
 * @property {string} check @property {string} node @property {readonly [number, number]} frames at 24 per second
 * @property {"slip" | "acted"} is a slip of the recording or of the fit of its skeleton, or what the actor did
 * @property {string} why
 */

/** @type {Readonly<Record<string, readonly Looked[]>>} by recording */
export const lookedAt = {
  "01_01.bvh": [
    {
      check: "contact-slide",
      node: "LeftFoot",
      frames: [172, 213],
      is: "slip",
      why: "ankle, ball and end of the toes all go back by 4.5 to 5 cm, half of it over the last 10 frames before the step",
    },
  ],
  "01_03.bvh": [
    {
      check: "pop",
      node: "LeftLeg",
      frames: [82, 83],
      is: "slip",
      why: "thigh and shin twist to and fro by up to 15° from row to row while the knee is nearly straight (10 to 20°)",
    },
    {
      check: "contact-slide",
      node: "LeftFoot",
      frames: [329, 340],
      is: "slip",
      why: "ankle, ball and end of the toes go along with the hips by 4 to 5 cm over the whole stance, a tenth of the hips' way",
    },
    {
      check: "contact-slide",
      node: "RightFoot",
      frames: [471, 483],
      is: "slip",
      why: "all of the foot goes along with the hips by 2.5 to 3.3 cm in 10 frames with the sole down, and on while it pushes off",
    },
    {
      check: "contact-slide",
      node: "RightFoot",
      frames: [679, 690],
      is: "slip",
      why: "the foot shifts by 2 cm from one frame to the next after it has landed, and goes on with the hips by as much",
    },
    {
      check: "contact-slide",
      node: "LeftFoot",
      frames: [700, 714],
      is: "slip",
      why: "the whole foot goes along with the hips by 3 cm and more while the sole is down",
    },
    {
      check: "twinning",
      node: "RightArm",
      frames: [704, 721],
      is: "acted",
      why: "both hands rise to the bar together, within a frame of each other",
    },
  ],
  "Boxing_Toes.bvh": [
    {
      check: "twinning",
      node: "RightShoulder",
      frames: [13, 24],
      is: "acted",
      why: "both arms are raised to the sides together, the pose by which the skeleton is fitted",
    },
    {
      check: "twinning",
      node: "RightShoulder",
      frames: [31, 42],
      is: "acted",
      why: "both arms come down from that pose together: each by 40 cm, within 5 cm of each other's mirrored place",
    },
  ],
};

/** Least share of the frames of the longer of two stretches that they have to have in common to be the same. */
const leastCommon = 0.5;

/**
 * What a reader has found of a note, null where none looked at it.
 * @param {string} recording file name @param {{ check: string, node: string | null, frames: readonly number[] }} note
 * @returns {Looked | null}
 */
export function lookedUp(recording, { check, node, frames: [from, to] }) {
  const found = (lookedAt[recording] ?? []).find((one) => {
    if (one.check !== check || one.node !== node) return false;
    const common = Math.min(to, one.frames[1]) - Math.max(from, one.frames[0]) + 1;
    return common >= leastCommon * (Math.max(to - from, one.frames[1] - one.frames[0]) + 1);
  });
  return found ?? null;
}
