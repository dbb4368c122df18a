import { referenceRate } from "../../../base/constants.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { airborneAt } from "../../../motion/body/flight.ts";
import { impactsOf } from "../../../motion/body/impact.ts";
import { type FootPlant, footPlantsOf, heightOf, hipsOf } from "../../../motion/ground/foot-plant.ts";
import { bestLag } from "../../../motion/parts/lag.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { heightCause } from "../shared/height-cause.ts";

/** With numbers in working units. */
export interface BodyTiedToStepsFinding extends Finding {
  readonly numbers: { readonly lag: number; readonly correlation: number; readonly wanted: number };
}

const settings = {
  correlation: {
    default: 0.9,
    unit: "ratio",
    what: "correlation of the hips' height with the feet's from which the body copies the feet",
    source:
      "common practice: hips that follow the feet this closely look bolted to them; walking in captured motion stays under 0.75",
    min: 0,
    max: 1,
  },
  lag: {
    default: 0.5,
    unit: "frames",
    what: "delay of the body behind the feet up to which it is tied to them",
    source: "common practice: a body comes after its feet by 1 to 2 frames",
    min: 0,
  },
  rise: {
    default: 0.006,
    unit: "H",
    what: "least rise and fall of the hips that is judged",
    source: "common practice: 1 cm of a grown person, the least bob that is seen in a walk",
    min: 0,
  },
} as const;

/**
 * Steps in a row, of both feet, from which a walk is judged: two whole cycles, so that a correlation says something.
 */
const fewestSteps = 4;
/** Longest delay that is looked for, in frames at 24 per second: half a step of a walk on twelves. */
const longestLag = 6;

/** The body's rise and fall copies the feet with no delay. */
export const bodyTiedToSteps = defineCheck({
  name: "body-tied-to-steps",
  title: "Body tied to the steps",
  family: "weight",
  scope: "figure",
  ceiling: "minor",
  notBefore: "splining",
  what: "In a walk the hips rise and fall with the feet, frame by frame.",
  why: "Weight comes after the step: the foot lands, and then the body comes down on it. Without that delay body and legs are one machine.",
  computes:
    "Over four and more steps of alternating feet without a flight: the height of the hips and the summed height of both ankles, their straight trends taken off. The delay at which they correlate best is looked for. At fault is a correlation of 0.9 and more at a delay of no more than half a frame.",
  fix: "Let the hips' rise and fall come one to two frames after the feet.",
  notAFault: ["jumps and impacts", "hips that hardly rise and fall"],
  limits: ["Stairs and slopes are judged after their straight trend is taken off."],
  sources: ["Common practice: weight arrives after the step, by a frame or two"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const found: BodyTiedToStepsFinding[] = [];
    for (const run of walksOf(study, figure)) {
      const finding = judge(study, figure, run, values);
      if (finding !== null) found.push(finding);
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    return {
      message: `${words.part} rise and fall with the feet at once, ${words.span(from, to)}: a delay of ${words.frames(Math.max(0, numbers.lag))}`,
      suggestion: `let the hips' height come ${words.frames(numbers.wanted)} after the feet`,
    };
  },
});

/** Stretches of alternating steps without flights and impacts. */
function walksOf(study: Study, figure: number): Span[] {
  const airborne = airborneAt(study, figure);
  const impacts = impactsOf(study, figure);
  const isCalm = ({ from, to }: Span) => {
    for (let i = from; i <= to; i++) if (airborne[i] === 1 || impacts[i] === 1) return false;
    return true;
  };
  const walks: Span[] = [];
  let steps: FootPlant[] = [];
  const close = () => {
    if (steps.length >= fewestSteps) {
      walks.push({ from: steps[0].from, to: Math.max(...steps.map(({ to }) => to)) });
    }
    steps = [];
  };
  for (const stance of footPlantsOf(study, figure)) {
    const before = steps[steps.length - 1];
    const follows =
      before !== undefined &&
      before.leg.side !== stance.leg.side &&
      isCalm({ from: before.from, to: stance.from });
    if (!follows) close();
    steps.push(stance);
  }
  close();
  return walks;
}

function judge(
  study: Study,
  figure: number,
  run: Span,
  values: { readonly correlation: number; readonly lag: number; readonly rise: number },
): BodyTiedToStepsFinding | null {
  const { rate, dt } = gridOf(study);
  const hips = hipsOf(study, figure);
  const body = detrended(heightOf(study, hips).subarray(run.from, run.to + 1));
  const rise = spread(body);
  if (rise < values.rise) return null;
  const ankles = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  const feet = floats(body.length);
  for (const { end } of ankles) {
    const height = heightOf(study, end);
    for (let i = 0; i < feet.length; i++) feet[i] += height[run.from + i];
  }
  const { lag, correlation } = bestLag(
    detrended(feet),
    body,
    Math.round((longestLag * rate) / referenceRate),
  );
  if (correlation < values.correlation || Math.abs(lag) > values.lag) return null;
  return {
    node: hips,
    figure,
    from: run.from,
    to: run.to,
    measured: { quantity: "delay of the hips behind the feet", value: lag, unit: "frames" },
    expected: { min: rate / referenceRate, unit: "frames", source: settings.lag.source },
    excess: 1 + (values.lag - Math.abs(lag)) / Math.max(values.lag, 1e-9),
    // What a delay of a frame and a half changes at the steepest point of the rise.
    size: Math.min(rise, 1.5 * steepest(body, dt) * (1 / referenceRate)),
    numbers: { lag, correlation, wanted: (1.5 * rate) / referenceRate },
    // It is the height that copies the feet, however much else the hips do meanwhile.
    fault: heightCause(study, hips, run, [0, 1, 0]) ?? {
      kind: "keys",
      keys: keysOfNodes(study, [hips], run.from, run.to, 3),
    },
  };
}

/** A series without its straight trend. */
function detrended(series: Float64Array): Float64Array {
  const count = series.length;
  const middle = (count - 1) / 2;
  let mean = 0;
  let along = 0;
  let squares = 0;
  for (let i = 0; i < count; i++) {
    mean += series[i] / count;
    along += (i - middle) * series[i];
    squares += (i - middle) ** 2;
  }
  const slope = squares > 0 ? along / squares : 0;
  return series.map((value, i) => value - mean - slope * (i - middle));
}

function spread(series: Float64Array): number {
  return series.reduce((a, b) => Math.max(a, b)) - series.reduce((a, b) => Math.min(a, b));
}

/** Fastest change of a series, per second. */
function steepest(series: Float64Array, dt: number): number {
  let most = 0;
  for (let i = 1; i < series.length; i++) most = Math.max(most, Math.abs(series[i] - series[i - 1]));
  return most / dt;
}
