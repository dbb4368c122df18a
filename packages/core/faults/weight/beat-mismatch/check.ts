import { standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { medianOf } from "../../../base/median.ts";
import type { Study } from "../../../base/study.ts";
import { type Beat, type BeatStroke, beatsOf, liftOf, usualBeat } from "../../../motion/body/beat.ts";
import {
  bestGlide,
  type Effort,
  effortOver,
  type Strength,
  strengthsAt,
} from "../../../motion/body/beat-effort.ts";
import { beatsUpAndDown, leastBeat, type Propulsor, propulsorsOf } from "../../../motion/body/propulsors.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { bodySupportAt } from "../../../motion/ground/support.ts";
import { statureOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface BeatMismatchFinding extends Finding {
  readonly numbers: { readonly need: number; readonly give: number; readonly wing: number };
}

const settings = {
  mismatch: {
    default: 1.8,
    unit: "ratio",
    what: "how many times the lift that a beat gives may differ from the lift that the body needs",
    source:
      "common practice: the lift of a beat goes with the square of its rate and of its swing, so that 1.8 is a third in either",
    min: 1,
  },
  beats: {
    default: 4,
    unit: "count",
    what: "how many beats in the air a shot has to show for the creature's own strength to be known",
    source: "common practice: of four beats one may be odd, and the median still tells the usual one",
    min: 2,
  },
} as const;

/** Lift that is taken for none, in units of the body's weight: a fall, which a ratio could not measure (our choice). */
const leastLift = 0.15;

/** The body's rise and fall and the beat of its wings do not belong together. */
export const beatMismatch = defineCheck({
  name: "beat-mismatch",
  title: "Beat that does not carry",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  hangsOn: ["unit"],
  notBefore: "splining",
  what: "The body speeds up or drops while its wings beat on as before, or the beat changes and the body does not answer.",
  why: "Wings carry by beating: a body that climbs on the same beat is lifted by a hand from above.",
  computes:
    "Two numbers are compared for each beat in the air. The force that the body needs, in units of its weight, is |change of velocity + g · time| / (g · time) over the beat. The lift that the beat gives is rate² · amplitude², in units of its median over others. These go at about the same speed (within 1.5 times), need about the body's weight and do not glide. Where there are too few of these, the upper quarter of the beats that are no slower tells what it takes at the least. At fault are beats at which the two differ by more than 1.8 times. Those that follow each other are one note, without a first or last stroke that carries by itself. What is told is the largest ratio of a whole beat in the frames that are marked.",
  fix: "Beat faster or wider by the share that is named, or bring the body's rise down to what the beat gives.",
  notAFault: [
    "a body with its hips in water that is declared, which carries it",
    "gliding and soaring: stretches without a beat",
    "tails and fins that beat across, less than 30° from the level: they push on and do not lift",
    "weak beats in forward flight, as long as the body does not climb and pays: 1 m of height, or of speed as height, for 12 m of way",
    "legs that carry",
    "the first beats of a shot that shows fewer than four",
  ],
  limits: [
    "Speed through the air adds lift: beats are compared with others at about the same speed. Where there are too few of these, only beats that are weaker than faster ones are found.",
    "Wind and updraughts are not known.",
    "Wings that stroke to and fro on the level, as those of hovering insects, are taken for such fins.",
  ],
  sources: [
    "Lift of a beating wing with the square of rate times amplitude: Ellington 1984, mean-force theory (from memory)",
  ],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const propulsors = liftersOf(study, figure);
    if (propulsors.length === 0) return [];
    const { rate } = gridOf(study);
    const carried = bodySupportAt(study, figure);
    const { node, beats } = strongest(propulsors, rate);
    const strokes = beats.filter(({ from, to }) => !carried.subarray(from, to + 1).includes(1));
    const least = glideShare * medianOf(strokes.map(liftOf));
    const inAir = strokes.filter((beat) => liftOf(beat) >= least);
    if (inAir.length < values.beats) return [];
    const usual = usualBeat(inAir);
    const hips = hipsOf(study, figure);
    const efforts = inAir.map((beat) => effortOver(study, hips, beat, usual));
    const slow = slowShare * statureOf(study, figure);
    const speeds = { slow, usual: medianOf(efforts.map(({ speed }) => speed)) };
    const strengths = strengthsAt(inAir, efforts, slow, values.beats);
    const ratioAt = (b: number, lift: number) => ratioOf(lift, efforts[b], strengths[b], speeds);
    const strokeLift = strokeLiftsOf(inAir);
    const isStrokeOff = (b: number, stroke: BeatStroke, more: boolean) => {
      const ratio = ratioAt(b, strokeLift(stroke));
      return strengthOf(ratio) > values.mismatch && ratio > 1 === more;
    };
    const found: BeatMismatchFinding[] = [];
    let run: Run | null = null;
    // Beats overlap by half: those at fault in the same way that touch each other are one find, from the first to the last.
    for (let b = 0; b <= inAir.length; b++) {
      const ratio = b < inAir.length ? ratioAt(b, liftOf(inAir[b])) : 1;
      const isOff = strengthOf(ratio) > values.mismatch;
      if (run !== null && isOff && ratio > 1 === run.ratio > 1) {
        run.to = b;
        continue;
      }
      if (run !== null) {
        const span = spanOf(run, inAir, isStrokeOff);
        const strengthAt = (beat: number) => strengthOf(ratioAt(beat, liftOf(inAir[beat])));
        // The number is that of a whole beat in the frames that are told.
        let worst = -1;
        for (let beat = run.from; beat <= run.to; beat++) {
          if (!isWithin(inAir[beat], span)) continue;
          if (worst < 0 || strengthAt(beat) > strengthAt(worst)) worst = beat;
        }
        const need = efforts[worst].need;
        const give = liftOf(inAir[worst]) / strengths[worst].unit;
        found.push(finding(study, figure, node, span, need, give, values.mismatch));
      }
      run = isOff ? { from: b, to: b, ratio } : null;
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    const more = numbers.need > numbers.give;
    const factor = Math.sqrt(Math.max(numbers.need, leastLift) / Math.max(numbers.give, leastLift));
    const needed = words.times(numbers.need);
    return {
      message: `body needs a lift of ${needed} its weight, ${words.span(from, to)}, and the beat gives ${words.times(numbers.give)}`,
      suggestion: `beat ${words.times(more ? factor : 1 / factor)} ${more ? "as fast or as wide" : "slower or narrower"}, or let the body ${more ? "rise less" : "rise more"} there`,
    };
  },
});

/** The propulsors whose beat carries; where none does, water carries the body or nothing has to. */
function liftersOf(study: Study, figure: number): readonly Propulsor[] {
  return propulsorsOf(study, figure).filter((propulsor) => {
    const lifts = beatsUpAndDown(study, figure, propulsor);
    if (!lifts)
      excused(propulsor.node, 0, gridOf(study).count - 1, "it beats across: it pushes on and does not lift");
    return lifts;
  });
}

/** Beats at fault that follow each other, by index. */
interface Run {
  readonly from: number;
  to: number;
  /** Of its first beat; the others are off in the same way. */
  readonly ratio: number;
}

function isWithin(beat: Span, { from, to }: Span): boolean {
  return beat.from >= from && beat.to <= to;
}

function strengthOf(ratio: number): number {
  return Math.max(ratio, 1 / ratio);
}

/**
 * From a run's first stroke that is at fault by itself to its last one: its first beat may begin, and its last one end,
 * with a stroke that still carries. Where no whole beat is left so, all of its beats.
 */
function spanOf(
  { from, to, ratio }: Run,
  beats: readonly Beat[],
  isStrokeOff: (beat: number, stroke: BeatStroke, more: boolean) => boolean,
): Span {
  const [first, second] = beats[from].strokes;
  const [last, end] = beats[to].strokes;
  const start = isStrokeOff(from, first, ratio > 1) ? first.from : second.from;
  const stop = isStrokeOff(to, end, ratio > 1) ? end.to : last.to;
  const span = { from: start, to: stop };
  return beats.slice(from, to + 1).some((beat) => isWithin(beat, span))
    ? span
    : { from: first.from, to: end.to };
}

/** Lift of a stroke if a whole beat went like it: wings strike down faster than they come up, each by its own share. */
function strokeLiftsOf(beats: readonly Beat[]): (stroke: BeatStroke) => number {
  const share = (rises: boolean) =>
    medianOf(
      beats.flatMap((beat) =>
        beat.strokes.flatMap((stroke) => (stroke.rises === rises ? [liftOf(stroke) / liftOf(beat)] : [])),
      ),
    );
  const up = share(true);
  const down = share(false);
  return (stroke) => liftOf(stroke) / (stroke.rises ? up : down);
}

/** The propulsor whose beats are strongest, and its beats. */
function strongest(
  propulsors: readonly { readonly node: number; readonly series: Float64Array }[],
  rate: number,
): { node: number; beats: Beat[] } {
  let best = { node: propulsors[0].node, beats: [] as Beat[] };
  let most = -1;
  for (const { node, series } of propulsors) {
    const beats = beatsOf(series, rate, leastBeat);
    let sum = 0;
    for (const beat of beats) sum += liftOf(beat);
    if (sum > most) {
      most = sum;
      best = { node, beats };
    }
  }
  return best;
}

/** Speeds that tell how spread wings carry, m/s. */
interface Speeds {
  /** Up to here the creature hovers. */
  readonly slow: number;
  /** At which it mostly flies. */
  readonly usual: number;
}

/** Lift that the body needs over the one that the beat gives; 1 where that is not known, or a glide explains it. */
function ratioOf(lift: number, effort: Effort, { unit, isLeast }: Strength, speeds: Speeds): number {
  if (unit === 0) return 1;
  const give = lift / unit;
  const ratio = Math.max(effort.need, leastLift) / Math.max(give, leastLift);
  if (ratio < 1) return isLeast ? 1 : ratio;
  return mayGlide(effort, give, speeds) ? 1 : ratio;
}

/**
 * Whether spread wings carry what a weak beat does not: in forward flight, up to somewhat more than the weight and,
 * where it is too slow for that, with the square of its speed; and at the price of a glide: what the wings do not pay
 * for drag, the body pays in height or speed.
 */
function mayGlide({ need, speed, way, sinks }: Effort, give: number, { slow, usual }: Speeds): boolean {
  const carries = glideLift * Math.min(1, speed / (stallShare * usual)) ** 2;
  if (!(speed > slow && need < carries)) return false;
  return sinks >= (Math.max(0, 1 - give / need) * way) / bestGlide;
}

/** Lift that spread wings give in forward flight, in units of the body's weight; common practice. */
const glideLift = 1.3;

/** Share of the usual speed down to which spread wings carry as much as they can; common practice: stall at 0.7. */
const stallShare = 0.7;

/** Slower than this, in body heights per second, a creature hovers: spread wings carry nothing (our choice). */
const slowShare = 1;
/** Beats under this share of the median are none: the wing trims a glide (our choice). */
const glideShare = 0.2;

function finding(
  study: Study,
  figure: number,
  node: number,
  beat: { readonly from: number; readonly to: number },
  need: number,
  give: number,
  limit: number,
): BeatMismatchFinding {
  const { dt } = gridOf(study);
  const ratio = strengthOf(Math.max(need, leastLift) / Math.max(give, leastLift));
  const time = (beat.to - beat.from) * dt;
  const nodes = propulsorsOf(study, figure).map((propulsor) => propulsor.node);
  return {
    node: hipsOf(study, figure),
    figure,
    from: beat.from,
    to: beat.to,
    measured: { quantity: "lift needed over lift of the beat", value: ratio, unit: "ratio" },
    expected: { max: limit, unit: "ratio", source: settings.mismatch.source },
    excess: ratio / limit,
    // How far the body would be off by the end of the beat if the beat alone moved it.
    size: 0.5 * Math.abs(need - give) * standardGravity * time * time,
    numbers: { need, give, wing: node },
    fault: { kind: "keys", keys: keysOfNodes(study, nodes, beat.from, beat.to) },
  };
}
