import { load } from "./bodies-for-tests.ts";
import type {
  BuiltShot,
  Family,
  FaultKind,
  KeyedShot,
  KeyingStyle,
  Limb,
  Performance,
  Place,
  Poses,
  Random,
} from "./types.d.ts";

const { keyed, keyedAfter } = await load("keying/index.mjs");
const { copy } = await load("motion/index.mjs");
const { allFamilies } = (await load("plans.mjs")) as { allFamilies: readonly Family[] };
const { posesOf } = (await load("poses.mjs")) as { posesOf: (shot: KeyedShot) => Poses };
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };

/** A clean shot of a family, keyed in one of the styles. */
export interface CleanShot {
  seed: string;
  performance: Performance;
  shot: KeyedShot;
  twin: Poses;
  /** The shot with a fault of motion of some size. */
  with(kind: FaultKind, place: Place, size: number): { performance: Performance; poses: BuiltShot["poses"] };
}

const styles: readonly KeyingStyle[] = [
  { stage: "splined", spacing: 6, interpolation: "bezier", offset: 2 },
  { stage: "dense", spacing: 1, interpolation: "linear", offset: 0 },
  { stage: "splined", spacing: 11, interpolation: "smooth", offset: 1 },
  { stage: "blocked", spacing: 9, interpolation: "step", offset: 0 },
];

/** Shots of all families, each in two styles that take turns. */
export function cleanShots(seed: string): CleanShot[] {
  return allFamilies.flatMap((family, index) =>
    [0, 1].map((n) => {
      const own = `${seed} ${family.name} ${index} ${n}`;
      return cleanShotOf(family.make(randomOf(own), 120), own, styles[(index + 3 * n) % 4]);
    }),
  );
}

/** A clean shot of what is performed in it. */
export function cleanShotOf(performance: Performance, seed: string, style: KeyingStyle): CleanShot {
  const keying = keyed(performance, style, randomOf(`${seed} keys`), { unit: 0.01 });
  return {
    seed,
    performance,
    shot: keying.shot,
    twin: posesOf(keying.shot),
    with(kind, place, size) {
      const faulty: Performance = copy(performance);
      kind.perform?.(faulty, place, size, randomOf(`${seed} ${kind.name}`));
      return { performance: faulty, poses: posesOf(keyedAfter(faulty, keying).shot) };
    },
  };
}

/** A kind's first places in each shot. */
export const placesOf = (kind: FaultKind, shots: readonly CleanShot[], each: number) =>
  shots.flatMap((clean) =>
    kind
      .places(clean.shot, randomOf(`${clean.seed} ${kind.name}`))
      .slice(0, each)
      .map((place) => ({ clean, place })),
  );

/** Greatest distance between where limbs stand in two shots, over the frames of their plants; some limbs may be left out. */
export function strayed(clean: CleanShot, poses: Poses, except: readonly number[], figure: string): number {
  const { body } = clean.performance.figures.find(({ id }) => id === figure)!;
  let most = 0;
  for (const event of clean.performance.events) {
    if (event.kind !== "plant" || event.figure !== figure || except.includes(event.limb)) continue;
    for (let frame = event.from; frame <= event.to; frame++) {
      for (const [joint, at] of standingOn(body.limbs[event.limb])) {
        const [a, b] = [poses, clean.twin].map((shot) => shot.point(joint, at, frame));
        most = Math.max(most, Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) / body.stature);
      }
    }
  }
  return most;
}

const standingOn = ({ sole }: Limb) =>
  sole === undefined
    ? []
    : ([
        [sole.foot, sole.heel],
        [sole.tip, sole.toe],
      ] as const);
