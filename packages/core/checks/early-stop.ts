import { standardGravity } from "../motion/ballistics.ts";
import { contactsOf, supportedAt } from "../motion/contact.ts";
import { clearanceOf } from "../motion/flight.ts";
import { gridOf } from "../motion/grid.ts";
import { massCentreOf } from "../motion/mass-centre.ts";
import { figuresOf, statureOf } from "../rig/body.ts";
import type { Study } from "../study/study.ts";
import { defineCheck, type Finding } from "./check.ts";
import { lifted } from "./lifted.ts";

const settings = {
  brake: {
    default: 0.35,
    unit: "g",
    what: "upward acceleration beyond the body's own fall from which it is being stopped",
    source:
      "common practice: in the air it is nought; a third of the body's weight leaves room for an average body's masses",
    min: 0,
  },
  early: {
    default: 2,
    unit: "frames",
    what: "how many frames before anything carries the stop has to begin",
    source: "common practice: a foot may touch between two frames, and a stop shows a frame before it",
    min: 1,
  },
  floor: {
    default: 0.003,
    unit: "H",
    what: "least height by which the body hangs above where its fall would have brought it, at the contact",
    source: "common practice: about 5 mm of a grown person",
    min: 0,
  },
  fall: {
    default: 0.3,
    unit: "m/s",
    what: "speed of the fall from which its stop is judged",
    source: "common practice: a drop of half a centimetre",
    min: 0,
  },
} as const;

/** A body is off the ground when all of it is higher than this, in body heights: about 1 cm, as for flights. */
const offGroundShare = 0.006;

/** The body stops falling before anything carries it. */
export const earlyStop = defineCheck({
  name: "early-stop",
  title: "Early stop",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  what: "The body slows its fall while its feet are still in the air.",
  why: "Only what touches can stop a fall. Hips that slow down before the foot carries look lowered on a wire: the step has no weight.",
  computes:
    "While nothing supports the figure and it falls, the acceleration of its centre of mass (over three frames) is held against that of its own fall (the lower quarter of the accelerations in the air, at most gravity). Where it exceeds it by more than 0.35 g, at least two frames before the first contact, the stop comes early; the frames between are counted and the height where the fall would have gone on to is worked out.",
  mend: "Let the centre of mass keep falling to the frame of the contact, and take the fall up after it with the knees.",
  notAFault: [
    "supported by any contact that is declared, or by a part of the body near the ground",
    "wings or other propulsors that beat more strongly while the body slows",
    "a fall that is weak all through: that is hang time",
  ],
  limits: [
    "Hands, seats and props carry only where contacts declare them.",
    "A trailing foot that still touches counts as carrying, even if it could not.",
  ],
  sources: ["Newton's second law: in the air the centre of mass falls freely"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    if (contactsOf(study, figure).length === 0) return [];
    const found: Finding[] = [];
    for (const [from, to] of gapsBeforeLandings(study, figure)) {
      const finding = stopIn(study, figure, from, to, values);
      if (finding !== null && finding.size > values.floor) found.push(finding);
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from } = finding;
    const frames = words.frames(numbers.early);
    const lands = numbers.foot >= 0 ? `${words.name(numbers.foot)} lands` : "anything touches";
    return {
      message: `body stops falling at frame ${words.frame(from)}, ${frames} before ${lands} at frame ${words.frame(numbers.lands)}: nothing carries it there`,
      suggestion: `keep falling ${frames} more, to frame ${words.frame(numbers.lands)} (${words.length(numbers.lower)} lower there), and stop after the contact`,
    };
  },
});

/** Stretches of samples in which nothing supports a figure and that end in a contact. */
function gapsBeforeLandings(study: Study, figure: number): [number, number][] {
  const supported = supportedAt(study, figure);
  const clearance = clearanceOf(study, figure);
  const off = offGroundShare * statureOf(study, figure);
  const gaps: [number, number][] = [];
  let from = -1;
  for (let i = 0; i < supported.length; i++) {
    const isFree = supported[i] === 0 && clearance[i] > off;
    if (isFree && from < 0) from = i;
    if (isFree || from < 0) continue;
    gaps.push([from, i - 1]);
    from = -1;
  }
  return gaps;
}

/** The stop within one unsupported stretch, null where the fall goes on to the contact. */
function stopIn(
  study: Study,
  figure: number,
  from: number,
  to: number,
  values: { readonly brake: number; readonly early: number; readonly fall: number },
): Finding | null {
  const { rate, dt } = gridOf(study);
  const path = massCentreOf(study, figure);
  const reach = Math.max(1, Math.round(rate / 24));
  const first = from + reach;
  const last = to - reach;
  if (last < first) return null;
  const accelerations = new Float64Array(last - first + 1);
  for (let i = first; i <= last; i++) accelerations[i - first] = acceleration(path, i, reach, dt);
  const own = ownFall(accelerations);
  if (own === null) return null;
  const lands = to + 1;
  let worst: { onset: number; end: number; lost: number } | null = null;
  for (let i = first; i <= last; i++) {
    if (!(accelerations[i - first] - own > values.brake)) continue;
    let end = i;
    let lost = 0;
    while (end <= last && accelerations[end - first] - own > values.brake) {
      lost += (accelerations[end - first] - own) * dt;
      end++;
    }
    const isFalling = speedAt(path, i, reach, dt) < -values.fall;
    if (isFalling && (worst === null || lost > worst.lost)) worst = { onset: i, end: end - 1, lost };
    i = end;
  }
  if (worst === null || lands - worst.onset < values.early) return null;
  if (lifted(study, figure, worst.onset, worst.end)) return null;
  return finding(study, figure, { ...worst, own, lands, reach }, values);
}

interface Stop {
  readonly onset: number;
  readonly end: number;
  /** Falling speed lost before the contact, m/s. */
  readonly lost: number;
  readonly own: number;
  readonly lands: number;
  readonly reach: number;
}

function finding(
  study: Study,
  figure: number,
  stop: Stop,
  values: { readonly brake: number; readonly early: number },
): Finding {
  const { dt, frames, step, count } = gridOf(study);
  const { onset, end, lost, own, lands, reach } = stop;
  const path = massCentreOf(study, figure);
  const time = (lands - onset) * dt;
  const speed = speedAt(path, onset, reach, dt);
  const kept = path[3 * onset + 1] + speed * time + 0.5 * own * time * time;
  const lower = Math.max(0, path[3 * lands + 1] - kept);
  const { parts, root } = figuresOf(study)[figure];
  const foot = contactsOf(study, figure).find(
    (contact) => contact.from >= lands - 1 && contact.from <= lands + 1,
  );
  const lo = Math.max(0, onset - reach);
  const hi = Math.min(count - 1, end + reach);
  const values_: number[] = [];
  for (let i = lo; i <= Math.min(count - 1, lands); i++) values_.push(path[3 * i + 1]);
  return {
    node: parts.get("root")?.[0] ?? root,
    figure,
    from: onset,
    to: lands,
    measured: { quantity: "frames from the stop to the contact", value: lands - onset, unit: "frames" },
    expected: { max: values.early, unit: "frames", source: settings.early.source },
    excess: lost / (values.brake * values.early * dt),
    size: lower,
    numbers: { early: lands - onset, lands, lower, foot: foot?.node ?? -1, lost },
    fault: {
      kind: "massCentre",
      subject: figure,
      lo,
      hi,
      from: onset,
      to: lands,
      strength: (series) => {
        let sum = 0;
        for (let i = onset; i <= end; i++) {
          if (i - reach < lo || i + reach > hi) continue;
          sum += Math.max(0, acceleration(series, i - lo, reach, dt) - own) * dt;
        }
        return sum;
      },
    },
    evidence: [
      { label: "height of the centre of mass", unit: "m", firstFrame: frames[lo], step, values: values_ },
    ],
  };
}

/** Vertical acceleration over `reach` samples on each side, m/s². */
function acceleration(path: Float64Array, i: number, reach: number, dt: number): number {
  const span = reach * dt;
  return (path[3 * (i + reach) + 1] - 2 * path[3 * i + 1] + path[3 * (i - reach) + 1]) / (span * span);
}

function speedAt(path: Float64Array, i: number, reach: number, dt: number): number {
  return (path[3 * i + 1] - path[3 * (i - reach) + 1]) / (reach * dt);
}

/**
 * The fall that a stretch in the air has of its own: the lower quarter of its accelerations, at most gravity's. Null
 * where the body does not fall at all (it is carried by something that is not declared).
 */
function ownFall(accelerations: Float64Array): number | null {
  const sorted = accelerations.slice().sort();
  const quarter = sorted[Math.floor((sorted.length - 1) / 4)];
  return quarter < -leastFall ? Math.max(quarter, -standardGravity) : null;
}

/** Least fall of a stretch in the air, m/s²: 0.2 g, as for flights. */
const leastFall = 0.2 * standardGravity;
