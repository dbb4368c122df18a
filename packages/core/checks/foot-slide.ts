import { type Bearing, bearingsOf } from "../motion/bearing.ts";
import { plantedAt } from "../motion/contact.ts";
import { footPointsOf } from "../motion/foot.ts";
import { gridOf } from "../motion/grid.ts";
import type { Run } from "../motion/plant.ts";
import { farthestApart, squaredAlong, stepAlong } from "../motion/slide.ts";
import { figuresOf, statureOf } from "../rig/body.ts";
import { worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";
import type { Study } from "../study/study.ts";
import { defineCheck, type Fault, type Finding } from "./check.ts";
import { holdCause } from "./hold-cause.ts";

const settings = {
  travel: {
    default: 0.0125,
    unit: "H",
    what: "farthest that a planted point may travel in the surface",
    source:
      "Pražák, Hoyet, O'Sullivan 2011: slides under 21 mm are seen in most conditions; 21 mm of a person of 1.7 m",
    min: 0,
  },
  pivot: {
    default: 75,
    unit: "deg",
    what: "how far a foot may turn about its ball, or its heel, within one plant",
    source: "common practice: a foot that bears turns less than a quarter turn",
    min: 0,
  },
  step: {
    default: 0.25,
    unit: "H/s",
    what: "speed from which a foot that the other one stands in for is dragged along on purpose: a step, no slide",
    source: "common practice: half of what a shuffling foot swings at",
    min: 0,
  },
} as const;

/** Faster than this, in body heights per second, a foot swings: the speed up to which a plant lasts (see `contactsOf`). */
const swingShare = 0.7;

/** The point of a foot that is judged, over one stretch of bearing. */
interface Stretch {
  readonly bearing: Bearing;
  readonly run: Run;
  readonly travel: number;
  /** The samples between which it travels. */
  readonly between: Run;
}

/** A planted foot travels. */
export const footSlide = defineCheck({
  name: "foot-slide",
  title: "Foot slide",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  what: "A foot that stands on a surface travels over it.",
  why: "A foot that bears weight is held by friction; where it slides the body has no ground, and everything above it floats.",
  computes:
    "For the heel and the ball of each foot the point of the sole that lies on the surface while the foot is flat is carried along with the foot, so that a roll does not count. While that point is down (within 0.006 body heights of the level at which it stands, one frame left out where it lands and leaves), its largest travel in the surface is measured. Where the other end of the same foot stays put meanwhile the foot pivots, and the angle of the turn is judged instead.",
  mend: "Hold the foot where it stands for the frames of the plant: take out the keys between, or give them one value.",
  notAFault: [
    "contacts that are declared to slide",
    "a turn about the ball or the heel up to the limit",
    "a low, quick step of one foot while the other one stands",
    "the roll of a foot from heel to toe",
  ],
  limits: [
    "A foot that slides as fast as a walking foot swings is taken for a swinging foot.",
    "A contact with a moving thing is not judged.",
  ],
  sources: ["Pražák, Hoyet, O'Sullivan: Perceptual evaluation of footskate cleanup, SCA 2011"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const stretches = stretchesOf(study, figure, values.step, swingShare * statureOf(study, figure));
    const found: Finding[] = [];
    for (const group of byFoot(study, figure, stretches)) {
      const faults: Finding[] = [];
      for (const stretch of group) {
        if (stretch.travel <= values.travel) continue;
        const other = restingEnd(stretch, group, values.travel);
        if (other === null) faults.push(slideFinding(study, figure, stretch, values.travel));
        else {
          const turn = turnOf(study, stretch, other);
          if (Math.abs(turn) > values.pivot) faults.push(pivotFinding(figure, stretch, turn, values.pivot));
        }
      }
      // Heel and toe of one foot that slide together are one fault; the end that slides farther says it.
      faults.sort((a, b) => b.size - a.size);
      for (const fault of faults) {
        if (!found.some((other) => inGroup(other, group) && meets(other, fault))) found.push(fault);
      }
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    const key = words.keys[0];
    const where =
      key === undefined ? "" : `; the ${key.channel} key at frame ${key.frame} of ${key.node} moves it most`;
    if (numbers.turn !== undefined) {
      return {
        message: `${words.part} turns by ${words.angle(Math.abs(numbers.turn))} on the ground while the foot bears, ${words.span(from, to)}`,
        suggestion: `lift the foot for the turn, or spread it over two steps, so that no plant turns more than ${words.angle(numbers.limit)}${where}`,
      };
    }
    return {
      message: `${words.part} slides ${words.length(numbers.travel)} while planted, ${words.span(from, to)}`,
      suggestion: `hold it where it stands at frame ${words.frame(numbers.hold)} from frame ${words.frame(numbers.first)} to ${words.frame(numbers.last)}${where}`,
    };
  },
});

/** Stretches in which the points of a figure's contacts bear, quick steps along the ground cut out. */
function stretchesOf(study: Study, figure: number, stepSpeed: number, swingSpeed: number): Stretch[] {
  const { dt } = gridOf(study);
  const stretches: Stretch[] = [];
  for (const bearing of bearingsOf(study, figure)) {
    if (bearing.contact.slides) continue;
    const { path, contact } = bearing;
    for (const run of bearing.runs) {
      for (const piece of withoutSteps(study, figure, bearing, run, stepSpeed * dt, swingSpeed * dt)) {
        const between = farthestApart(path, piece, contact.surface.normal);
        stretches.push({ bearing, run: piece, ...between });
      }
    }
  }
  return stretches;
}

/**
 * Cuts a run where the point goes along the ground at the speed of a step while the other foot stands, and where it
 * goes as fast as a swinging foot.
 */
function withoutSteps(
  study: Study,
  figure: number,
  bearing: Bearing,
  run: Run,
  quick: number,
  swinging: number,
): Run[] {
  const { path, contact } = bearing;
  const others = otherFeet(study, figure, contact.node);
  const pieces: Run[] = [];
  let first = run.from;
  const close = (last: number) => {
    if (last > first) pieces.push({ from: first, to: last });
  };
  for (let i = run.from + 1; i <= run.to; i++) {
    if (stepAlong(path, i, contact.surface.normal) < quick) continue;
    let last = i;
    let fastest = stepAlong(path, i, contact.surface.normal);
    while (last < run.to) {
      const step = stepAlong(path, last + 1, contact.surface.normal);
      if (step < quick) break;
      fastest = Math.max(fastest, step);
      last++;
    }
    if (fastest > swinging || others.some((other) => standsThrough(study, other, i - 1, last, quick))) {
      close(i - 1);
      first = last;
    }
    i = last;
  }
  close(run.to);
  return pieces;
}

function otherFeet(study: Study, figure: number, node: number): number[] {
  const { partOf } = figuresOf(study)[figure];
  const side = partOf.get(node)?.startsWith("left") ? "right" : "left";
  return footPointsOf(rigOf(study), figuresOf(study)[figure])
    .map((point) => point.node)
    .filter((other) => partOf.get(other)?.startsWith(side));
}

/** Whether a node is planted, and slow, from one sample to another. */
function standsThrough(study: Study, node: number, from: number, to: number, quick: number): boolean {
  const planted = plantedAt(study, node);
  const { position } = worldOf(study, node);
  for (let i = from; i <= to; i++) if (planted[i] === 0) return false;
  const [a, b] = [3 * from, 3 * to];
  const way = Math.hypot(
    position[b] - position[a],
    position[b + 1] - position[a + 1],
    position[b + 2] - position[a + 2],
  );
  return way <= 0.5 * quick * (to - from);
}

/** Stretches by foot (ankle and ball of one side); nodes that are no foot stand alone. */
function byFoot(study: Study, figure: number, stretches: readonly Stretch[]): Stretch[][] {
  const { partOf } = figuresOf(study)[figure];
  const groups = new Map<string, Stretch[]>();
  for (const stretch of stretches) {
    const { node } = stretch.bearing.contact;
    const part = partOf.get(node);
    const foot = part?.replace("Toes", "Foot");
    const name = foot === "leftFoot" || foot === "rightFoot" ? foot : `node ${node}`;
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [stretch]);
    else group.push(stretch);
  }
  return [...groups.values()];
}

/** The other end of the foot, where it is down for most of the travel and stays put. */
function restingEnd(stretch: Stretch, group: readonly Stretch[], limit: number): Stretch | null {
  const { from, to } = stretch.between;
  for (const other of group) {
    if (other.bearing.contact.node === stretch.bearing.contact.node) continue;
    const overlap = Math.min(to, other.run.to) - Math.max(from, other.run.from);
    if (overlap >= 0.5 * (to - from) && other.travel <= limit) return other;
  }
  return null;
}

/** Angle about the surface's normal by which the line from one end of the foot to the other turns over the travel. */
function turnOf(study: Study, stretch: Stretch, other: Stretch): number {
  const { normal } = stretch.bearing.contact.surface;
  const a = worldOf(study, stretch.bearing.contact.node).position;
  const b = worldOf(study, other.bearing.contact.node).position;
  const { from, to } = stretch.between;
  const u = inSurface(a, b, from, normal);
  const v = inSurface(a, b, to, normal);
  const sine =
    normal[0] * (u[1] * v[2] - u[2] * v[1]) +
    normal[1] * (u[2] * v[0] - u[0] * v[2]) +
    normal[2] * (u[0] * v[1] - u[1] * v[0]);
  return Math.atan2(sine, u[0] * v[0] + u[1] * v[1] + u[2] * v[2]);
}

function inSurface(
  a: Float64Array,
  b: Float64Array,
  at: number,
  normal: readonly [number, number, number],
): [number, number, number] {
  const k = 3 * at;
  const v: [number, number, number] = [a[k] - b[k], a[k + 1] - b[k + 1], a[k + 2] - b[k + 2]];
  const along = v[0] * normal[0] + v[1] * normal[1] + v[2] * normal[2];
  return [v[0] - along * normal[0], v[1] - along * normal[1], v[2] - along * normal[2]];
}

function slideFinding(study: Study, figure: number, stretch: Stretch, limit: number): Finding {
  const { contact, path } = stretch.bearing;
  const { normal } = contact.surface;
  const { run, travel } = stretch;
  const hold = stillest(path, run, normal);
  return {
    ...placeOf(figure, stretch),
    measured: { quantity: "travel while planted", value: travel, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.travel.source },
    excess: travel / limit,
    size: travel,
    numbers: { travel, hold, first: run.from, last: run.to },
    fault: faultOf(study, stretch, hold),
    evidence: [
      {
        label: "travel in the surface from where it stands",
        unit: "m",
        firstFrame: gridOf(study).frames[run.from],
        step: gridOf(study).step,
        values: travelFrom(path, stretch.between.from, run, normal),
      },
    ],
  };
}

/** Keys that drag the foot off its place; where hips and legs move against each other, whatever key bends its path. */
function faultOf(study: Study, stretch: Stretch, hold: number): Fault {
  const { bearing, run, between } = stretch;
  const { node, surface } = bearing.contact;
  const whole = { from: 0, to: run.to - run.from };
  const strength = (series: Float64Array) => farthestApart(series, whole, surface.normal).travel;
  const moved = holdCause(study, { node, run, between, hold, strength });
  if (moved !== null) return moved;
  return { kind: "position", subject: node, lo: run.from, hi: run.to, ...between, strength };
}

function pivotFinding(figure: number, stretch: Stretch, turn: number, limit: number): Finding {
  const { contact } = stretch.bearing;
  const { between, travel } = stretch;
  const degrees = 180 / Math.PI;
  const length = between.to - between.from;
  return {
    ...placeOf(figure, stretch),
    measured: { quantity: "turn while planted", value: Math.abs(turn) * degrees, unit: "deg" },
    expected: { max: limit * degrees, unit: "deg", source: settings.pivot.source },
    excess: Math.abs(turn) / limit,
    size: travel,
    numbers: { turn, limit },
    fault: {
      kind: "position",
      subject: contact.node,
      lo: between.from,
      hi: between.to,
      from: between.from,
      to: between.to,
      strength: (series) => farthestApart(series, { from: 0, to: length }, contact.surface.normal).travel,
    },
  };
}

function placeOf(figure: number, { bearing, between }: Stretch) {
  return { node: bearing.contact.node, figure, from: between.from, to: between.to };
}

/** The sample of a run at which the point moves least: where it is meant to stand. */
function stillest(path: Float64Array, run: Run, normal: readonly [number, number, number]): number {
  let best = run.from;
  let least = Number.POSITIVE_INFINITY;
  for (let i = run.from + 1; i <= run.to; i++) {
    const step = stepAlong(path, i, normal) + (i < run.to ? stepAlong(path, i + 1, normal) : 0);
    if (step < least) {
      least = step;
      best = i;
    }
  }
  return best;
}

function travelFrom(
  path: Float64Array,
  origin: number,
  run: Run,
  normal: readonly [number, number, number],
): number[] {
  const values: number[] = [];
  for (let i = run.from; i <= run.to; i++) values.push(Math.sqrt(squaredAlong(path, origin, i, normal)));
  return values;
}

function inGroup(finding: Finding, group: readonly Stretch[]): boolean {
  return group.some(({ bearing }) => bearing.contact.node === finding.node);
}

function meets(a: Finding, b: Finding): boolean {
  return a.from <= b.to && b.from <= a.to;
}
