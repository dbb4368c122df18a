/** Pictures of bodies: feet on the ground, limbs, spines. */
import { between, bones, dot, ground, line, words } from "./draw.mjs";

const floor = 128;

/** A leg from hip to toe: hip, knee bend and pitch of the foot in degrees. */
function leg(hip, lean, bend, pitch, kind = "bone", heel = 0) {
  const [top, knee, ankle] = bones(hip, [42, lean - bend / 2], [42, lean + bend / 2]);
  const [, toe] = bones(ankle, [26, -90 + pitch]);
  return line([top, knee, ankle], kind) + line([[ankle[0] - 7 + heel, ankle[1] + 3], ankle, toe], kind);
}

/** A foot alone: seen from the side, pitched about its ball. */
function foot(ball, pitch, kind = "bone") {
  const [, heel] = bones(ball, [40, 90 + pitch]);
  const [, ankle] = bones(heel, [22, 180 + pitch]);
  return line([[ball[0] + 18, ball[1]], ball, heel, ankle, ball], kind);
}

/** A leg that stands on a foot pitched about its ball; it leans forward, its knee bent. */
function legOn(ball, pitch, lean, bend, mark) {
  const [, heel] = bones(ball, [40, 90 + pitch]);
  const [, ankle] = bones(heel, [22, 180 + pitch]);
  return (
    line(bones(ankle, [40, 180 + lean + bend / 2], [40, 180 + lean - bend / 2]), "bone") +
    foot(ball, pitch, `bone ${mark}`)
  );
}

/** A whole figure from the front on two feet, its middle at x. */
function standing(x, middle, mark) {
  const hips = [middle, 74];
  const chest = between(hips, [middle + (middle - x) * 0.15, 34], 1);
  return (
    ground(floor) +
    line([[x - 24, floor], [x - 12, 98], hips, [x + 12, 98], [x + 24, floor]], "bone") +
    line([hips, chest], "bone") +
    dot([chest[0], 20], "dot", 9) +
    dot([middle, 60], `dot ${mark}`, 5) +
    line(
      [
        [middle, 60],
        [middle, floor],
      ],
      `line ${mark}`,
    )
  );
}

export const pictures = {
  "contact-slide": [
    ground() +
      foot([90, floor], 0, "other") +
      foot([124, floor], 0, "other") +
      foot([158, floor], 0, "bone fault") +
      line(
        [
          [70, 144],
          [140, 144],
          [134, 140],
        ],
        "line fault",
      ),
    ground() + foot([124, floor], 0, "bone good"),
  ],
  "off-ground": [
    ground() + leg([130, 32], 0, 12, 0, "bone fault"),
    ground() + leg([130, 41], 0, 12, 0, "bone good"),
  ],
  "through-ground": [
    ground() + leg([130, 54], 0, 12, 0, "bone fault"),
    ground() + leg([130, 41], 0, 12, 0, "bone good"),
  ],
  "flat-foot": [
    ground() + legOn([126, floor], 0, 34, 14, "fault"),
    ground() + legOn([126, floor], 40, 34, 14, "good"),
  ],
  "one-axis-roll": [
    ground() +
      foot([150, floor], 42, "bone fault") +
      line(
        [
          [150, 40],
          [150, 112],
        ],
        "faint",
      ),
    ground() +
      foot([150, floor], 42, "bone good") +
      line(
        [
          [166, 40],
          [140, 112],
        ],
        "line good",
      ) +
      words([172, 52], "outward"),
  ],
  "leg-snap": [
    ground() +
      leg([80, 50], 0, 40, 0, "other") +
      leg([140, 45], 0, 30, 0, "other") +
      leg([200, 40], 0, 0, 0, "bone fault"),
    ground() +
      leg([80, 50], 0, 40, 0, "other") +
      leg([140, 46], 0, 32, 0, "other") +
      leg([200, 43], 0, 24, 0, "bone good"),
  ],
  "off-balance": [standing(120, 190, "fault"), standing(140, 146, "good")],
};
