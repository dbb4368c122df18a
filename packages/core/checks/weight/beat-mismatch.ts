import { standardGravity } from "../../motion/ballistics.ts";
import { type Beat, beatsOf, liftOf, usualBeat } from "../../motion/beat.ts";
import { carriedAt } from "../../motion/carrying.ts";
import { gridOf } from "../../motion/grid.ts";
import { leastBeat, propulsorsOf } from "../../motion/propulsors.ts";
import { medianOf } from "../../motion/smoothing.ts";
import { speedOf, velocityOf } from "../../motion/spacing.ts";
import { hipsOf } from "../../motion/stance.ts";
import { statureOf } from "../../rig/body.ts";
import type { Study } from "../../study/study.ts";
import { defineCheck, type Finding } from "../check.ts";
import { keysOfNodes } from "../keys-of-nodes.ts";

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
    source: "common practice: a median of four",
    min: 2,
  },
} as const;

/** Lift that is taken for none, in units of the body's weight: a fall. */
const leastLift = 0.15;

/** The body's rise and fall and the beat of its wings do not belong together. */
export const beatMismatch = defineCheck({
  name: "beat-mismatch",
  title: "Beat that does not carry",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  what: "The body speeds up or drops while its wings beat on as before, or the beat changes and the body does not answer.",
  why: "Wings carry by beating: a body that climbs on the same beat is lifted by a hand from above.",
  computes:
    "For each beat in the air: the force that the body needs in units of its weight, |change of velocity + g · time| / (g · time) over the beat, and the lift that the beat gives, rate² · amplitude², in units of its median over the beats at about the same speed (within 1.5 times) that need about the body's weight. At fault are beats at which the two differ by more than 1.8 times.",
  mend: "Beat faster or wider by the share that is named, or bring the body's rise down to what the beat gives.",
  notAFault: [
    "gliding and soaring: stretches without a beat, and weak beats in forward flight as long as the body does not climb",
    "legs that carry",
    "the first beats of a shot that shows fewer than four",
  ],
  limits: [
    "Speed through the air adds lift: beats are held only against others at about the same speed, and where there are too few of these they are not judged.",
    "Wind and updraughts are not known.",
  ],
  sources: [
    "Lift of a beating wing with the square of rate times amplitude: Ellington 1984, mean-force theory (from memory)",
  ],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const propulsors = propulsorsOf(study, figure);
    if (propulsors.length === 0) return [];
    const { rate } = gridOf(study);
    const carried = carriedAt(study, figure);
    const { node, beats } = strongest(propulsors, rate);
    const strokes = beats.filter(({ from, to }) => !carried.subarray(from, to + 1).includes(1));
    const least = glideShare * medianOf(strokes.map(liftOf));
    const inAir = strokes.filter((beat) => liftOf(beat) >= least);
    if (inAir.length < values.beats) return [];
    const usual = usualBeat(inAir);
    const need = inAir.map((beat) => neededLift(study, figure, beat, usual));
    const slow = slowShare * statureOf(study, figure);
    const speed = speedOf(study, hipsOf(study, figure));
    const speeds = inAir.map(({ from, to }) => Math.max(slow, speed[(from + to) >> 1]));
    const give = givenLift(inAir, need, speeds, values.beats);
    const found: Finding[] = [];
    let worst = -1;
    let ratioAt = 1;
    // Beats overlap by half: those at fault that touch each other are one find.
    for (let b = 0; b <= inAir.length; b++) {
      const isKnown = b < inAir.length && give[b] > 0 && !mayGlide(need[b], give[b], speeds[b] > slow);
      const ratio = isKnown ? Math.max(need[b], leastLift) / Math.max(give[b], leastLift) : 1;
      const isOff = Math.max(ratio, 1 / ratio) > values.mismatch;
      if (isOff && (worst < 0 || strength(ratio) > strength(ratioAt))) {
        worst = b;
        ratioAt = ratio;
      }
      if (isOff || worst < 0) continue;
      found.push(finding(study, figure, node, inAir[worst], need[worst], give[worst], values.mismatch));
      worst = -1;
      ratioAt = 1;
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

function strength(ratio: number): number {
  return Math.max(ratio, 1 / ratio);
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

/**
 * Force that the body needs over a beat, in units of its weight: against gravity, and to speed up or brake. Taken over at
 * least a usual beat around the beat's middle, at the body itself: the mass of the wings goes up and down with them.
 */
function neededLift(study: Study, figure: number, beat: Beat, usual: number): number {
  const { dt, count } = gridOf(study);
  const velocity = velocityOf(study, hipsOf(study, figure));
  const half = Math.max(beat.to - beat.from, Math.round(usual)) / 2;
  const middle = (beat.from + beat.to) / 2;
  const first = Math.max(0, Math.round(middle - half));
  const last = Math.min(count - 1, Math.round(middle + half));
  if (last <= first) return 1;
  const weight = standardGravity * (last - first) * dt;
  const change = [0, 1, 2].map((k) => velocity[3 * last + k] - velocity[3 * first + k]);
  return Math.hypot(change[0], change[1] + weight, change[2]) / weight;
}

/**
 * Lift that each beat gives in units of the body's weight: held against the other beats at about the same speed through
 * the air, since that speed lifts as well. 0 where there are too few of them to tell.
 */
function givenLift(
  beats: readonly Beat[],
  need: readonly number[],
  speeds: readonly number[],
  fewest: number,
): number[] {
  return beats.map((beat, b) => {
    const alike = beats.flatMap((other, o) => {
      const isAlike = speeds[o] < sameSpeed * speeds[b] && speeds[b] < sameSpeed * speeds[o];
      return isAlike && need[o] > 0.5 && need[o] < 2 ? [liftOf(other) / need[o]] : [];
    });
    const unit = alike.length >= fewest ? medianOf(alike) : 0;
    return unit > 0 ? liftOf(beat) / unit : 0;
  });
}

/** Whether spread wings may carry what a weak beat does not: in forward flight, up to somewhat more than the weight. */
function mayGlide(need: number, give: number, isFast: boolean): boolean {
  return isFast && need > give && need < glideLift;
}

/** Lift that spread wings give in forward flight, in units of the body's weight; common practice. */
const glideLift = 1.3;

/** Speeds through the air within this factor of each other count as the same; common practice. */
const sameSpeed = 1.5;
/** Slower than this, in body heights per second, a creature hovers. */
const slowShare = 1;
/** Beats under this share of the median are none: the wing trims a glide. */
const glideShare = 0.2;

function finding(
  study: Study,
  figure: number,
  node: number,
  beat: Beat,
  need: number,
  give: number,
  limit: number,
): Finding {
  const { dt } = gridOf(study);
  const ratio = strength(Math.max(need, leastLift) / Math.max(give, leastLift));
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
