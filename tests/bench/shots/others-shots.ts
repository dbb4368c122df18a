/** Shots of bodies that have not two legs, made once for each test file: ten seeds of each family. */
import type { Body, Event, Family, Limb, Performance, Poses, Random } from "./types.d.ts";

const load = (path: string) => import(/* @vite-ignore */ new URL(`./${path}`, import.meta.url).href);
export const { otherFamilies } = (await load("families/others/index.mjs")) as { otherFamilies: Family[] };
export const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };
const { densePosesOf } = (await load("poses.mjs")) as { densePosesOf: (performance: Performance) => Poses };

type Kind<K extends Event["kind"]> = Extract<Event, { kind: K }>;
export const eventsOf = <K extends Event["kind"]>({ events }: Performance, kind: K) =>
  events.filter((event): event is Kind<K> => event.kind === kind);
export const far = (a: readonly number[], b: readonly number[]) =>
  Math.hypot(...a.map((value, k) => value - b[k]));
export const bodyOf = (performance: Performance): Body => performance.figures[0].body;
export const soleOf = (limb: Limb) => limb.sole!;

/** Lengths go from short shots to long ones. */
export const shotsOf = (families: readonly Family[]) =>
  families.map((family) => ({
    title: `${family.name}, ${family.action}`,
    family,
    made: Array.from({ length: 10 }, (_, n) => {
      const performance = family.make(randomOf(`${family.name} ${family.action} ${n}`), 80 + 16 * n);
      return { performance, poses: densePosesOf(performance) };
    }),
  }));
