import { standardGravity } from "../../motion/ballistics.ts";
import { type Beat, beatsOf, liftOf, usualBeat } from "../../motion/beat.ts";
import { carriedAt } from "../../motion/carrying.ts";
import { gridOf } from "../../motion/grid.ts";
import { leastBeat, propulsorsOf } from "../../motion/propulsors.ts";
import { medianOf } from "../../motion/smoothing.ts";
import { spacingOf, speedOf, velocityOf } from "../../motion/spacing.ts";
import { hipsOf } from "../../motion/stance.ts";
import { statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
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
    "For each beat in the air: the force that the body needs in units of its weight, |change of velocity + g · time| / (g · time) over the beat, and the lift that the beat gives, rate² · amplitude², in units of its median over the beats at about the same speed (within 1.5 times) that need about the body's weight and do not glide. Where there are too few of these, the upper quarter of the beats that are no slower tells what it takes at the least. At fault are beats at which the two differ by more than 1.8 times.",
  mend: "Beat faster or wider by the share that is named, or bring the body's rise down to what the beat gives.",
  notAFault: [
    "gliding and soaring: stretches without a beat, and weak beats in forward flight as long as the body does not climb and pays for the glide: 1 m of height, or of speed as height, for 12 m of its way",
    "legs that carry",
    "the first beats of a shot that shows fewer than four",
  ],
  limits: [
    "Speed through the air adds lift: beats are held against others at about the same speed; where there are too few of these, only beats that are weaker than faster ones are found.",
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
    const hips = hipsOf(study, figure);
    const efforts = inAir.map((beat) => effortOver(study, hips, beat, usual));
    const slow = slowShare * statureOf(study, figure);
    const speeds = { slow, usual: medianOf(efforts.map(({ speed }) => speed)) };
    const strengths = strengthsAt(inAir, efforts, slow, values.beats);
    const found: Finding[] = [];
    let run: Run | null = null;
    // Beats overlap by half: those at fault in the same way that touch each other are one find, from the first to the last.
    for (let b = 0; b <= inAir.length; b++) {
      const ratio = b < inAir.length ? ratioOf(inAir[b], efforts[b], strengths[b], speeds) : 1;
      const isOff = strengthOf(ratio) > values.mismatch;
      if (run !== null && isOff && ratio > 1 === run.ratio > 1) {
        run.to = b;
        if (strengthOf(ratio) > strengthOf(run.ratio)) {
          run.worst = b;
          run.ratio = ratio;
        }
        continue;
      }
      if (run !== null) {
        const { from, to, worst } = run;
        const need = efforts[worst].need;
        const give = liftOf(inAir[worst]) / strengths[worst].unit;
        const span = { from: inAir[from].from, to: inAir[to].to };
        found.push(finding(study, figure, node, span, need, give, values.mismatch));
      }
      run = isOff ? { from: b, to: b, worst: b, ratio } : null;
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

/** Beats at fault that follow each other, by index. */
interface Run {
  readonly from: number;
  to: number;
  worst: number;
  ratio: number;
}

function strengthOf(ratio: number): number {
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

/** What the body does over a beat. */
interface Effort {
  /** Force that it needs, in units of its weight: against gravity, and to speed up or brake. */
  readonly need: number;
  /** Speed through the air, m/s. */
  readonly speed: number;
  /** Its way, m, and the height that its energy falls by over it (v² / 2g counts as height), m. */
  readonly way: number;
  readonly sinks: number;
}

/**
 * Taken over at least a usual beat around the beat's middle, at the body itself: the mass of the wings goes up and down
 * with them.
 */
function effortOver(study: Study, hips: number, beat: Beat, usual: number): Effort {
  const { dt, count } = gridOf(study);
  const velocity = velocityOf(study, hips);
  const spacing = spacingOf(study, hips);
  const { position } = worldOf(study, hips);
  const half = Math.max(beat.to - beat.from, Math.round(usual)) / 2;
  const middle = (beat.from + beat.to) / 2;
  const first = Math.max(0, Math.round(middle - half));
  const last = Math.min(count - 1, Math.round(middle + half));
  const speed = speedOf(study, hips)[(beat.from + beat.to) >> 1];
  if (last <= first) return { need: 1, speed, way: 0, sinks: 0 };
  const weight = standardGravity * (last - first) * dt;
  const change = [0, 1, 2].map((k) => velocity[3 * last + k] - velocity[3 * first + k]);
  const need = Math.hypot(change[0], change[1] + weight, change[2]) / weight;
  let way = 0;
  for (let i = first + 1; i <= last; i++) way += spacing[i];
  const height = (i: number) => {
    const k = 3 * i;
    const squared = velocity[k] ** 2 + velocity[k + 1] ** 2 + velocity[k + 2] ** 2;
    return position[k + 1] + squared / (2 * standardGravity);
  };
  return { need, speed, way, sinks: height(first) - height(last) };
}

/** What beats at some speed lift with for each unit of the body's weight; 0 where too few of them tell. */
interface Strength {
  readonly unit: number;
  /** Whether it takes that much at the least: beats that give more are not held against it. */
  readonly isLeast: boolean;
}

/**
 * The creature's own strength at the speed of each beat: held against the other beats at about the same speed through the
 * air, since that speed lifts as well. Beats in a glide do not tell, since it carries. Where too few are left, faster beats
 * and those in a glide tell what it takes at the least: slower, and without the glide, the wings have to do more.
 */
function strengthsAt(
  beats: readonly Beat[],
  efforts: readonly Effort[],
  slow: number,
  fewest: number,
): Strength[] {
  const speeds = efforts.map(({ speed }) => Math.max(slow, speed));
  const isFree = efforts.map(({ speed, sinks, way }) => !(speed > slow && sinks > way / bestGlide));
  const unitOver = (isMeant: (other: number) => boolean, share: number) => {
    const units = beats.flatMap((beat, o) => {
      const { need } = efforts[o];
      return need > 0.5 && need < 2 && isMeant(o) ? [liftOf(beat) / need] : [];
    });
    return units.length < fewest ? 0 : quantileOf(units, share);
  };
  return beats.map((_, b) => {
    const isNoSlower = (o: number) => sameSpeed * speeds[o] > speeds[b];
    const alike = unitOver((o) => isFree[o] && isNoSlower(o) && speeds[o] < sameSpeed * speeds[b], 0.5);
    if (alike > 0) return { unit: alike, isLeast: false };
    // Weak beats among them are carried by their glide; the stronger half tells.
    return { unit: unitOver(isNoSlower, 0.75), isLeast: true };
  });
}

function quantileOf(series: number[], share: number): number {
  const sorted = series.toSorted((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const before = Math.floor(at);
  const after = Math.min(sorted.length - 1, before + 1);
  return sorted[before] + (at - before) * (sorted[after] - sorted[before]);
}

/** Speeds that tell how spread wings carry, m/s. */
interface Speeds {
  /** Up to here the creature hovers. */
  readonly slow: number;
  /** At which it mostly flies. */
  readonly usual: number;
}

/** Lift that the body needs over the one that the beat gives; 1 where that is not known, or a glide explains it. */
function ratioOf(beat: Beat, effort: Effort, { unit, isLeast }: Strength, speeds: Speeds): number {
  if (unit === 0) return 1;
  const give = liftOf(beat) / unit;
  const ratio = Math.max(effort.need, leastLift) / Math.max(give, leastLift);
  if (ratio < 1) return isLeast ? 1 : ratio;
  return mayGlide(effort, give, speeds) ? 1 : ratio;
}

/**
 * Whether spread wings carry what a weak beat does not: in forward flight, up to somewhat more than the weight and, where
 * it is too slow for that, with the square of its speed; and at the price of a glide: what the wings do not pay for drag, the body
 * pays in height or speed.
 */
function mayGlide({ need, speed, way, sinks }: Effort, give: number, { slow, usual }: Speeds): boolean {
  const carries = glideLift * Math.min(1, speed / (stallShare * usual)) ** 2;
  if (!(speed > slow && need < carries)) return false;
  return sinks >= (Math.max(0, 1 - give / need) * way) / bestGlide;
}

/** Lift that spread wings give in forward flight, in units of the body's weight; common practice. */
const glideLift = 1.3;

/**
 * Way of a glide over the height that it costs, for a creature that glides well: falcons 10 (Tucker & Parrott 1970), black
 * vultures 11.6 (Parrott 1970); from memory.
 */
const bestGlide = 12;

/** Share of the usual speed down to which spread wings carry as much as they can; common practice: stall at 0.7. */
const stallShare = 0.7;

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
  beat: { readonly from: number; readonly to: number },
  need: number,
  give: number,
  limit: number,
): Finding {
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
