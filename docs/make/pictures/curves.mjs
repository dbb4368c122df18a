/** Pictures of curves over time: height, angle, beat. */
import { eased, ground, inPlot, line, plotted, words } from "./draw.mjs";

const mark = (course, from, to, kind) =>
  line(
    plotted((t) => course(from + (to - from) * t)).map((_, i) =>
      inPlot(from + ((to - from) * i) / 96, course(from + ((to - from) * i) / 96)),
    ),
    `line ${kind}`,
  );

/** Height of a fall that is taken up at 0.68; early: it is braked before. */
const falls = (t) =>
  t < 0.68 ? 0.92 - 1.35 * t * t : 0.296 - 1.836 * (t - 0.68) * Math.exp(-9 * (t - 0.68));
const brakes = (t) => (t < 0.42 ? 0.92 - 1.35 * t * t : 0.682 - 0.36 * eased((t - 0.42) / 0.5) - 0.04 * t);
const landing = line([inPlot(0.68, 0), inPlot(0.68, 1)], "faint") + words([198, 22], "contact");

const jump = (hang) => (t) => {
  const [a, b] = [0.5 - hang / 2, 0.5 + hang / 2];
  if (t < a || t > b) return 0.12;
  const u = (t - a) / (b - a);
  return 0.12 + 0.72 * 4 * u * (1 - u);
};
const floating = (t) => {
  if (t < 0.12 || t > 0.88) return 0.12;
  const u = (t - 0.12) / 0.76;
  return 0.12 + 0.72 * Math.sin(Math.PI * u) ** 0.55;
};

const rise = (start) => (t) => 0.2 + 0.55 * eased((t - start) / 0.35);
const push = (start) => (t) => 0.06 + 0.3 * eased((t - start) / 0.3);
const beat = (amplitude) => (t) => 0.32 + amplitude(t) * Math.sin(2 * Math.PI * 6 * t);
const lift = (t) => 0.66 + 0.28 * eased((t - 0.3) / 0.5);

const wave = (late, size, mid) => (t) => mid + size * Math.sin(2 * Math.PI * 1.5 * (t - late));
export const pictures = {
  "early-stop": [
    landing + line(plotted(brakes)) + mark(brakes, 0.42, 0.68, "fault"),
    landing + line(plotted(falls)) + mark(falls, 0.42, 0.68, "good"),
  ],
  "hang-time": [
    ground() + line(plotted(jump(0.48)), "faint") + line(plotted(floating), "line fault"),
    ground() + line(plotted(jump(0.48)), "line good"),
  ],
  "lift-before-push": [
    line(plotted(rise(0.25)), "line fault") +
      line(plotted(push(0.45))) +
      words([20, 99], "body") +
      words([20, 142], "push"),
    line(plotted(rise(0.4)), "line good") +
      line(plotted(push(0.22))) +
      words([20, 99], "body") +
      words([20, 142], "push"),
  ],
  "beat-mismatch": [
    line(plotted(lift)) +
      line(plotted(beat(() => 0.1)), "line fault") +
      words([20, 22], "lift") +
      words([20, 142], "wings"),
    line(plotted(lift)) +
      line(plotted(beat((t) => 0.09 + 0.16 * eased((t - 0.18) / 0.4))), "line good") +
      words([20, 22], "lift") +
      words([20, 142], "wings"),
  ],
  "body-tied-to-steps": [
    line(plotted(wave(0, 0.16, 0.72)), "line fault") +
      line(plotted(wave(0, 0.16, 0.25))) +
      words([20, 22], "body") +
      words([20, 142], "feet"),
    line(plotted(wave(0.07, 0.16, 0.72)), "line good") +
      line(plotted(wave(0, 0.16, 0.25))) +
      words([20, 22], "body") +
      words([20, 142], "feet"),
  ],
};
