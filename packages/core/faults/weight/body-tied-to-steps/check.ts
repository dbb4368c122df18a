import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { medianOf } from "../../../base/median.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { airborneAt } from "../../../motion/body/flight.ts";
import { impactsOf } from "../../../motion/body/impact.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { type FootPlant, footPlantsOf, heightOf, hipsOf } from "../../../motion/ground/foot-plant.ts";
import { bestLag } from "../../../motion/parts/lag.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { heightCause } from "../shared/height-cause.ts";
import { beforeContact, lowAround, onsetOf, type StepLow } from "../shared/step-lows.ts";

/** With numbers in working units. */
export interface BodyTiedToStepsFinding extends Finding {
  readonly numbers: {
    readonly lag: number;
    readonly correlation: number;
    readonly wanted: number;
    /** How many lows lie on contacts in a row; 0 where the whole course copies the feet. */
    readonly lows: number;
  };
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
  isOfAct: true,
  hangsOn: ["body"],
  notBefore: "splining",
  what: "In a walk the hips rise and fall with the feet, frame by frame.",
  why: "Weight comes after the step: the foot lands, and then the body comes down on it. Without that delay body and legs are one machine.",
  computes:
    "Over four and more steps of alternating feet without a flight: the height of the hips and the summed height of both ankles, their straight trends taken off. The delay at which they correlate best is looked for. At fault is a correlation of 0.9 and more at a delay of no more than half a frame. Where the whole course does not copy them, each low of the hips is held against the contact that it belongs to. At fault are two steps in a row, one of each foot, whose lows come no more than half a frame after the contact. A foot touches half a frame, on the mean, before the first frame in which it is down.",
  fix: "Let the hips' rise and fall come one to two frames after the feet.",
  notAFault: [
    "jumps and impacts",
    "hips that hardly rise and fall",
    "hips that step keys cut from pose to pose",
  ],
  limits: ["Stairs and slopes are judged after their straight trend is taken off."],
  sources: ["Common practice: weight arrives after the step, by a frame or two"],
  since: "0.1.0",
  settings,
  repeats: "steps",
  find(study, figure, values) {
    const found: BodyTiedToStepsFinding[] = [];
    const hips = hipsOf(study, figure);
    const cuts = cutsOf(study, hips);
    for (const steps of walksOf(study, figure)) {
      const run = { from: steps[0].from, to: Math.max(...steps.map(({ to }) => to)) };
      if (isCutBetween(cuts, run.from, run.to)) {
        excused(hips, run.from, run.to, "step keys cut from pose to pose, which tells of no delay in frames");
        continue;
      }
      const finding = judge(study, figure, run, values);
      if (finding !== null) found.push(finding);
      else if (footCountOf(study, figure) === 2) found.push(...lowsOnContacts(study, figure, steps, values));
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    if (numbers.lows > 0) {
      return {
        message: `${words.part} are down with the contacts of ${numbers.lows} steps in a row, ${words.span(from, to)}: a delay of ${words.frames(Math.max(0, numbers.lag))}`,
        suggestion: `let the hips' height come ${words.frames(numbers.wanted)} later`,
      };
    }
    return {
      message: `${words.part} rise and fall with the feet at once, ${words.span(from, to)}: a delay of ${words.frames(Math.max(0, numbers.lag))}`,
      suggestion: `let the hips' height come ${words.frames(numbers.wanted)} after the feet`,
    };
  },
});

/** Stretches of alternating steps without flights and impacts, by their plants. */
function walksOf(study: Study, figure: number): FootPlant[][] {
  const airborne = airborneAt(study, figure);
  const impacts = impactsOf(study, figure);
  const isCalm = ({ from, to }: Span) => {
    for (let i = from; i <= to; i++) if (airborne[i] === 1 || impacts[i] === 1) return false;
    return true;
  };
  const walks: FootPlant[][] = [];
  let steps: FootPlant[] = [];
  const close = () => {
    if (steps.length >= fewestSteps) walks.push(steps);
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

interface Values {
  readonly correlation: number;
  readonly lag: number;
  readonly rise: number;
}

/**
 * Steps in a row, one of each foot, at which the hips are down with the contact. A foot touches between two frames: half a
 * frame, on the mean, before the first in which it is down.
 */
function lowsOnContacts(
  study: Study,
  figure: number,
  steps: readonly FootPlant[],
  values: Values,
): BodyTiedToStepsFinding[] {
  const { rate } = gridOf(study);
  const hips = hipsOf(study, figure);
  const height = heightOf(study, hips);
  const found: BodyTiedToStepsFinding[] = [];
  const onsets = steps.map((step) => onsetOf(study, figure, step));
  let row: StepLow[] = [];
  const close = () => {
    if (row.length >= 2) found.push(lowsFinding(study, figure, row, values));
    row = [];
  };
  for (const [k, onset] of onsets.entries()) {
    if (onset === 0) {
      close();
      continue;
    }
    const next = onsets[k + 1] ?? onset + Math.round(rate / 2);
    const low = lowAround(
      height,
      onset,
      next,
      Math.round((beforeContact * rate) / referenceRate),
      values.rise,
    );
    if (low === null || low.delay > values.lag) close();
    else row.push(low);
  }
  close();
  return found;
}

function lowsFinding(
  study: Study,
  figure: number,
  row: readonly StepLow[],
  values: Values,
): BodyTiedToStepsFinding {
  const { rate, dt } = gridOf(study);
  const hips = hipsOf(study, figure);
  const first = row[0];
  const last = row[row.length - 1];
  const run = { from: Math.min(first.contact, first.at), to: Math.max(last.contact, last.at) };
  const body = heightOf(study, hips).subarray(run.from, run.to + 1);
  const lag = medianOf(Float64Array.from(row, ({ delay }) => delay));
  return {
    node: hips,
    figure,
    ...run,
    measured: { quantity: "delay of the hips' low behind the contacts", value: lag, unit: "frames" },
    expected: { min: rate / referenceRate, unit: "frames", source: settings.lag.source },
    excess: 1 + Math.max(0, values.lag - lag) / Math.max(values.lag, 1e-9),
    size: Math.min(spread(body), 1.5 * steepest(body, dt) * (1 / referenceRate)),
    numbers: {
      lag,
      correlation: 0,
      wanted: Math.max(1, (1.5 * rate) / referenceRate - lag),
      lows: row.length,
    },
    fault: heightCause(study, hips, run, [0, 1, 0]) ?? {
      kind: "keys",
      keys: keysOfNodes(study, [hips], run.from, run.to, 3),
    },
  };
}

function judge(study: Study, figure: number, run: Span, values: Values): BodyTiedToStepsFinding | null {
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
    numbers: { lag, correlation, wanted: (1.5 * rate) / referenceRate, lows: 0 },
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
