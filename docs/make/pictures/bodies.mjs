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

/** An arm that swings, drawn at three times. */
function arm(wrists, mark) {
  return wrists
    .map((wrist, i) => {
      const lift = -70 + 55 * i;
      const [shoulder, elbow, hand, tips] = bones(
        [150, 30],
        [44, lift],
        [40, lift - 22],
        [22, lift - 22 + wrist],
      );
      const kind = i === 1 ? "bone" : "other";
      return (
        line([shoulder, elbow, hand], kind) + line([hand, tips], `${kind} ${mark}`) + dot(hand, `dot ${mark}`)
      );
    })
    .join("");
}

/** A hand that takes a weight: fingers at a curl. */
function grip(curl, mark) {
  const [, one, two, three] = bones([120, 52], [26, -80], [20, -80 + curl], [18, -80 + 2 * curl]);
  return (
    line(
      [
        [54, 40],
        [120, 52],
      ],
      "bone",
    ) +
    line([[120, 52], one, two, three], `bone ${mark}`) +
    line(
      [
        [142, 66],
        [186, 66],
        [186, 110],
        [142, 110],
        [142, 66],
      ],
      "line",
    )
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

const shoulders = (up, mark) =>
  line(
    [
      [145, 128],
      [145, 58],
    ],
    "bone",
  ) +
  dot([145, 28], "dot", 13) +
  line(
    [
      [105, 62 - up],
      [145, 58],
      [185, 62 - up],
    ],
    `bone ${mark}`,
  ) +
  line(
    [
      [105, 62 - up],
      [98, 108 - up],
    ],
    "bone",
  ) +
  line(
    [
      [185, 62 - up],
      [192, 108 - up],
    ],
    "bone",
  ) +
  line(
    [
      [90, 62],
      [200, 62],
    ],
    "faint",
  );

const burst = (x, y, r, kind) =>
  Array.from({ length: 8 }, (_, i) => (Math.PI * i) / 4)
    .map((a) =>
      line(
        [
          [x + 0.45 * r * Math.cos(a), y + 0.45 * r * Math.sin(a)],
          [x + r * Math.cos(a), y + r * Math.sin(a)],
        ],
        `line ${kind}`,
      ),
    )
    .join("");

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
  "still-wrist": [arm([0, 0, 0], "fault"), arm([34, 12, -26], "good")],
  "still-fingers": [grip(4, "fault"), grip(52, "good")],
  "raised-shoulders": [shoulders(17, "fault"), shoulders(0, "good")],
  "competing-moves": [
    ground() + burst(75, 70, 40, "fault") + burst(215, 70, 40, "fault"),
    ground() + burst(75, 70, 40, "good") + dot([215, 70], "dot", 8) + words([180, 110], "waits its turn"),
  ],
};
