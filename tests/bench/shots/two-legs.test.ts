import { describe, expect, test } from "vitest";
import type { Body, Event, Family, Performance, Poses, Random, Vector } from "./types.d.ts";

const load = (path: string) => import(/* @vite-ignore */ new URL(`./${path}`, import.meta.url).href);
const { twoLegFamilies } = (await load("families/two-legs/index.mjs")) as { twoLegFamilies: Family[] };
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };
const { densePosesOf } = (await load("poses.mjs")) as { densePosesOf: (performance: Performance) => Poses };

type Kind<K extends Event["kind"]> = Extract<Event, { kind: K }>;
const eventsOf = <K extends Event["kind"]>({ events }: Performance, kind: K) =>
  events.filter((event): event is Kind<K> => event.kind === kind);
const far = (a: readonly number[], b: readonly number[]) => Math.hypot(...a.map((value, k) => value - b[k]));
const bodyOf = (performance: Performance, figure: string): Body =>
  performance.figures.find(({ id }) => id === figure)!.body;
/** 2 mm for a body of 1.75 m. */
const tolerance = ({ stature }: Body) => (0.002 * stature) / 1.75;
/** Joints that hang: their swing has no muscle and no published limit. */
const hangs = (body: Body) =>
  new Set(body.limbs.flatMap(({ kind, joints }) => (kind === "loose" ? joints : [])));

/** Ten seeds of each family. */
const shots = twoLegFamilies.map((family) => ({
  title: `${family.name}: ${family.action}`,
  family,
  made: Array.from({ length: 10 }, (_, n) => {
    const performance = family.make(randomOf(`${family.name} ${family.action} ${n}`), 80 + 12 * n);
    return { seed: n, performance, poses: densePosesOf(performance) };
  }),
}));

test("there are at least ten families, each with an action", () => {
  expect(twoLegFamilies.length).toBeGreaterThanOrEqual(10);
  expect(twoLegFamilies.every(({ action, weight }) => action !== undefined && weight > 0)).toBe(true);
});

describe.each(shots)("$title", ({ family, made }) => {
  test("is the same for a seed and another for each", () => {
    const make = (seed: string) => family.make(randomOf(seed), 90);
    const [one, again, other] = [make("a"), make("a"), make("b")];
    expect(again.tracks).toEqual(one.tracks);
    expect(again.events).toEqual(one.events);
    expect(other.tracks).not.toEqual(one.tracks);
  });

  test("has masses that add up to 1, of joints that are there", () => {
    for (const { performance } of made) {
      for (const { body } of performance.figures) {
        const ids = new Set(body.joints.map(({ id }) => id));
        expect(Object.values(body.masses).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
        for (const id of Object.keys(body.masses)) expect(ids).toContain(id);
        for (const id of body.limbs.flatMap(({ joints }) => joints)) expect(ids).toContain(id);
        for (const id of body.trunk) expect(ids).toContain(id);
      }
    }
  });

  test("has finite tracks of its own joints and props, without jumps", () => {
    for (const { seed, performance } of made) {
      const ids = new Set([
        ...performance.figures.flatMap(({ body }) => body.joints.map(({ id }) => id)),
        ...performance.props.map(({ id }) => id),
      ]);
      const loose = new Set(performance.figures.flatMap(({ body }) => [...hangs(body)]));
      for (const [name, values] of performance.tracks) {
        const joint = name.split(" ")[0];
        expect(ids).toContain(joint);
        expect(values.every(Number.isFinite)).toBe(true);
        expect(values).toHaveLength(performance.last - performance.first + 1);
        const bend = values.subarray(2).map((value, n) => Math.abs(value - 2 * values[n + 1] + values[n]));
        // The largest changes of speed are those of the knees when somebody lands: some 2,000°/s within a frame. A change of
        // sign of a whole angle, or a joint of two actions that do not fit, is far above.
        const most = !name.includes("rotation") ? 0.2 : loose.has(joint) ? 120 : 70;
        expect(Math.max(...bend), `${seed}: ${name}`).toBeLessThan(most);
      }
      for (const name of performance.solved) expect(performance.tracks.has(name)).toBe(true);
    }
  });

  test("holds planted soles on their places, and nothing of a sole under the ground", () => {
    for (const { seed, performance, poses } of made) {
      for (const { kind, ...plant } of performance.events.filter((event) => event.kind === "plant")) {
        const { figure, limb, from, to } = plant as Kind<"plant">;
        const body = bodyOf(performance, figure);
        const { foot, heel, tip, toe } = body.limbs[limb].sole!;
        const points = (frame: number) => [poses.point(foot, heel, frame), poses.point(tip, toe, frame)];
        const floor = Math.min(...points(from).map(([, y]) => y));
        const stands: (Vector | null)[] = [null, null];
        for (let frame = from; frame <= to; frame++) {
          let down = 0;
          points(frame).forEach((point, n) => {
            const where = `${seed}: ${body.limbs[limb].joints[0]} on frame ${frame} of ${from} to ${to}`;
            const isDown = point[1] - floor < tolerance(body) / 2;
            if (isDown) down++;
            // Heel or toe stays where it came down for as long as it is down.
            stands[n] = isDown ? (stands[n] ?? point) : null;
            if (stands[n] !== null) expect(far(point, stands[n]), where).toBeLessThan(tolerance(body));
          });
          expect(down, `${kind} ${seed}, frame ${frame}`).toBeGreaterThan(0);
        }
      }
      for (const { body } of performance.figures) {
        const ground = performance.ground.height - tolerance(body);
        for (let frame = performance.first; frame <= performance.last; frame++) {
          for (const { sole } of body.limbs) {
            if (sole === undefined) continue;
            const where = `${seed}: ${sole.foot}, ${frame}`;
            expect(poses.point(sole.foot, sole.heel, frame)[1], where).toBeGreaterThan(ground);
            expect(poses.point(sole.tip, sole.toe, frame)[1], where).toBeGreaterThan(ground);
          }
        }
      }
    }
  });

  test("never asks a leg for more than it has, nor bends a knee or an elbow back", () => {
    for (const { seed, performance, poses } of made) {
      for (const { body } of performance.figures) {
        for (const { kind, joints } of body.limbs) {
          if (kind !== "leg" && kind !== "arm") continue;
          const full = [1, 2].reduce((sum, n) => {
            const { at } = body.joints.find(({ id }) => id === joints[n])!;
            return sum + Math.hypot(...at);
          }, 0);
          for (let frame = performance.first; frame <= performance.last; frame++) {
            const where = `${seed}: ${joints[0]}, ${frame}`;
            const bend = poses.channel(joints[1], "rotation.x", frame) * (kind === "leg" ? 1 : -1);
            expect(bend, where).toBeGreaterThan(kind === "leg" ? 15 : 0);
            const reach = far(poses.position(joints[0], frame), poses.position(joints[2], frame)) / full;
            if (kind === "leg") expect(reach, where).toBeLessThan(0.98);
          }
        }
      }
    }
  });

  test("turns no joint quicker than people have been seen to", () => {
    for (const { seed, performance, poses } of made) {
      for (const { body } of performance.figures) {
        const loose = hangs(body);
        for (const [id, limit] of limits(body)) {
          if (loose.has(id)) continue;
          for (let frame = performance.first + 1; frame <= performance.last; frame++) {
            const speed = turned(body, poses, id, frame) * performance.rate;
            expect(speed, `${seed}: ${id}, ${frame}`).toBeLessThan(limit);
          }
        }
      }
    }
  });

  test("stands with its mass over its feet in long rests", () => {
    for (const { seed, performance, poses } of made) {
      for (const { figure, joints, from, to } of eventsOf(performance, "hold")) {
        const body = bodyOf(performance, figure);
        const soles = body.limbs.flatMap(({ sole }) => (sole === undefined ? [] : [sole]));
        const seated = performance.props.some(({ id }) => id === "seat") && joints.includes(body.root);
        if (to - from < 8 || seated) continue;
        for (let frame = from; frame <= to; frame++) {
          const points = soles.flatMap(({ foot, heel, tip, toe }) => [
            poses.point(foot, heel, frame),
            poses.point(tip, toe, frame),
          ]);
          const [x, , z] = poses.massCentre(figure, frame);
          // A foot is about a tenth of the stature broad (Drillis & Contini 1966: 0.055 half of it on either side).
          const out = outside([x, z], points);
          expect(out, `${seed}: ${figure}, ${frame}`).toBeLessThan(0.0275 * body.stature);
        }
      }
    }
  });

  test("falls with 9.80665 m/s² within 1 % in flights, and goes on evenly", () => {
    for (const { seed, performance, poses } of made) {
      for (const { figure, from, to } of eventsOf(performance, "flight")) {
        const frames = Array.from({ length: to - from + 3 }, (_, n) => from - 1 + n);
        const centres = frames.map((frame) => poses.massCentre(figure, frame));
        const fall = 2 * curvature(centres.map(([, y]) => y)) * performance.rate ** 2;
        expect(Math.abs(fall / -9.80665 - 1), `${seed}: ${from}`).toBeLessThan(0.01);
        for (const axis of [0, 2]) {
          const drift = 2 * curvature(centres.map((centre) => centre[axis])) * performance.rate ** 2;
          expect(Math.abs(drift), `${seed}: ${from}`).toBeLessThan(0.1);
        }
      }
    }
  });

  test("keeps hands on what they hold", () => {
    for (const { seed, performance, poses } of made) {
      for (const { prop, figure, limbs, from, to } of eventsOf(performance, "hold-prop")) {
        const body = bodyOf(performance, figure);
        for (const limb of limbs) {
          const hand = body.limbs[limb].joints[2];
          // The grip lies 45 % of the hand's length, 0.108 of the stature, from the wrist.
          const palm: Vector = [0, -0.45 * 0.108 * body.stature, 0];
          const apart = (frame: number) => far(poses.point(hand, palm, frame), poses.position(prop, frame));
          for (let frame = from; frame <= to; frame++) {
            const change = Math.abs(apart(frame) - apart(from)) / body.stature;
            expect(change, `${seed}: ${hand}, ${frame}`).toBeLessThan(0.0015);
          }
        }
      }
    }
  });

  test("tells of what happens in frames of the shot, in order", () => {
    for (const { performance } of made) {
      expect(performance.events.length).toBeGreaterThan(0);
      const ids = new Set(performance.figures.flatMap(({ body }) => body.joints.map(({ id }) => id)));
      for (const event of performance.events) {
        const order = Object.entries(event)
          .filter(([key]) => ["from", "peak", "to", "at", "low"].includes(key))
          .map(([, frame]) => frame as number);
        for (const frame of order) {
          expect(Number.isInteger(frame), JSON.stringify(event)).toBe(true);
          expect(frame).toBeGreaterThanOrEqual(performance.first);
          expect(frame).toBeLessThanOrEqual(performance.last);
        }
        expect(order, JSON.stringify(event)).toEqual(order.toSorted((a, b) => a - b));
        if ("joints" in event) for (const id of event.joints) expect(ids).toContain(id);
      }
    }
  });
});

/**
 * Joints and the highest speeds that were published for them, degrees per second: head 780, median of maxima (Grossman et al.
 * 1988); upper torso against pelvis 871 ± 150 (J Sports Sci Med 2015 14:246), two deviations above; shoulder 2,420, elbow 1,510,
 * wrist 1,950 in the serve (Fleisig et al. 2003); hip, knee and ankle 1,500, 2,000, 1,500 from memory.
 */
function limits(body: Body): [string, number][] {
  const list: [string, number][] = body.trunk.slice(1).map((id) => [id, 1171]);
  if (body.head !== null) list.push([body.head, 780]);
  for (const { kind, joints } of body.limbs) {
    const speeds = kind === "arm" ? [2420, 1510, 1950] : kind === "leg" ? [1500, 2000, 1500] : [];
    for (const [n, speed] of speeds.entries()) list.push([joints[n], speed]);
  }
  return list;
}

/** Degrees by which a joint turned against its parent since the frame before. */
function turned(body: Body, poses: Poses, id: string, frame: number): number {
  const { parent } = body.joints.find((joint) => joint.id === id)!;
  const own = (at: number) => {
    const q = poses.orientation(id, at);
    return parent === null ? q : product(inverse(poses.orientation(parent, at)), q);
  };
  const [x, y, z, w] = product(inverse(own(frame - 1)), own(frame));
  return (2 * Math.atan2(Math.hypot(x, y, z), Math.abs(w)) * 180) / Math.PI;
}

type Turn = [number, number, number, number];
const inverse = ([x, y, z, w]: Turn): Turn => [-x, -y, -z, w];
const product = (a: Turn, b: Turn): Turn => [
  a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
  a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
];

/** How far a point lies outside of the hull of others, seen from above: the least over all directions is not needed, some do. */
function outside([x, z]: [number, number], points: readonly Vector[]): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < 48; n++) {
    const [cos, sin] = [Math.cos((n * Math.PI) / 24), Math.sin((n * Math.PI) / 24)];
    const edge = Math.max(...points.map((point) => point[0] * cos + point[2] * sin));
    most = Math.max(most, x * cos + z * sin - edge);
  }
  return most;
}

/** Coefficient of the square in the parabola that fits best, from equal steps. */
function curvature(values: readonly number[]): number {
  const middle = (values.length - 1) / 2;
  const count = values.length;
  let [sum2, sum4] = [0, 0];
  values.forEach((_, n) => {
    sum2 += (n - middle) ** 2 / count;
    sum4 += (n - middle) ** 4 / count;
  });
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const mixed = values.reduce((sum, value, n) => sum + ((n - middle) ** 2 - sum2) * (value - mean), 0);
  return mixed / count / (sum4 - sum2 * sum2);
}
