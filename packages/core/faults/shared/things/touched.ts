import { bytes } from "../../../base/room.ts";
import { measure, type Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { surfacesOf } from "../../../motion/ground/contact.ts";
import { heightAt, mediumLevelsOf } from "../../../motion/ground/surface.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gapTo } from "../../../rig/prop-shape.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { type Prop, propsOf } from "../../../rig/props.ts";
import { rigOf } from "../../../rig/rig.ts";
import { bonesOf, handThickness } from "../../../staging/flesh.ts";
import { pathsOf, solidsOf } from "../../../staging/solids.ts";
import { gridOf } from "../../../time/grid.ts";

/** What a sample of {@link touchedAt} says: nothing is at the thing; something without life is; a body is. */
export const untouched = 0;
export const byThing = 1;
export const byBody = 2;

/** Farther from the flesh of a body than this nothing is touched by it, body heights: as much again as a hand is thick. */
const slack = handThickness;
/** Nearer than this to a surface or another thing it lies there, body heights: as for feet (see `flight.ts`). */
const lies = 0.006;
/** A thing that keeps its place to within this for as long rests on something, body heights and seconds. */
const restShare = 0.001;
const restTime = 0.25;
/** Points of a bone at which its distance is looked at. */
const along = 4;

/**
 * What touches a thing at each sample: {@link untouched}, {@link byThing} or {@link byBody}. A hand that holds it touches it,
 * and so does flesh that is as near as a hand is thick; so do the ground, other things with shapes, water, and what it
 * rests on, seen or not. A thing that hangs on something that moves is always touched.
 * @param node rig index of a prop
 */
export const touchedAt = measure("touched", (study, node: number): Uint8Array => {
  const { count } = gridOf(study);
  const touched = bytes(count);
  const prop = propsOf(study).find((one) => one.node === node);
  const up = rigOf(study).parent[node];
  if (prop === undefined || (up >= 0 && !worldOf(study, up).still)) return touched.fill(byThing);
  const stature = Math.max(0, ...figuresOf(study).map((_, figure) => statureOf(study, figure)));
  markThings(study, prop, stature, touched);
  markRests(study, prop, stature, touched);
  figuresOf(study).forEach((_, figure) => {
    markFlesh(study, prop, figure, touched);
  });
  for (const { thing, from, to } of gripsOf(study))
    if (thing === node) touched.fill(byBody, Math.max(0, from), Math.min(count - 1, to) + 1);
  return touched;
});

function markThings(study: Study, prop: Prop, stature: number, touched: Uint8Array): void {
  const world = worldOf(study, prop.node);
  const own = hullOf(study, prop.node);
  const near = lies * stature;
  const others = propsOf(study).filter(({ node, shapes }) => node !== prop.node && shapes.length > 0);
  for (const { path, radius } of own)
    for (let i = 0; i < touched.length; i++) {
      const isDown = surfacesOf(study).some((surface) => heightAt(surface, path, i) - radius < near);
      const isWet = mediumLevelsOf(study).some((level) => heightAt(level, path, i) < 0);
      const isOn = others.some(
        (other) => gapTo(other, worldOf(study, other.node), i, path, i) - radius < near,
      );
      if (isDown || isWet || isOn) touched[i] = byThing;
    }
  for (const { node } of others)
    for (const { path, radius } of hullOf(study, node))
      for (let i = 0; i < touched.length; i++)
        if (gapTo(prop, world, i, path, i) - radius < near) touched[i] = byThing;
}

/** The points of a thing's outside: balls, or corners without a radius; its own place where it has no shape. */
function hullOf(study: Study, node: number): { readonly path: Float64Array; readonly radius: number }[] {
  const solids = solidsOf(study).filter((solid) => solid.node === node && "shape" in solid.of);
  if (solids.length === 0) return [{ path: worldOf(study, node).position, radius: 0 }];
  return solids.flatMap((solid) => pathsOf(study, solid).map((path) => ({ path, radius: solid.radius })));
}

function markRests(study: Study, { node }: Prop, stature: number, touched: Uint8Array): void {
  const { position } = worldOf(study, node);
  const long = Math.max(2, Math.round(restTime * gridOf(study).rate));
  for (let i = 0, from = 0; i < touched.length; i++) {
    while (from < i && distanceBetween(position, from, position, i) > restShare * stature) from++;
    if (i - from >= long) touched.fill(byThing, from, i + 1);
  }
}

const point = new Float64Array(3);

function markFlesh(study: Study, prop: Prop, figure: number, touched: Uint8Array): void {
  const world = worldOf(study, prop.node);
  const stature = statureOf(study, figure);
  const beyond = prop.shapes.length > 0 ? slack * stature : lengthShare.hand * stature;
  const bones = bonesOf(study, figure).map(({ from, to, radius }) => ({ from, to, radius }));
  // Fingers are no bones that are drawn, but they touch.
  for (const node of figuresOf(study)[figure].nodes)
    bones.push({ from: node, to: node, radius: handThickness * stature });
  for (const { from, to, radius } of bones) {
    const [a, b] = [worldOf(study, from).position, worldOf(study, to).position];
    const steps = from === to ? 0 : along;
    for (let i = 0; i < touched.length; i++) {
      for (let step = 0; step <= steps && touched[i] !== byBody; step++) {
        const share = steps === 0 ? 0 : step / steps;
        for (let k = 0; k < 3; k++) point[k] = a[3 * i + k] + share * (b[3 * i + k] - a[3 * i + k]);
        const gap =
          prop.shapes.length > 0
            ? gapTo(prop, world, i, point, 0)
            : distanceBetween(world.position, i, point, 0);
        if (gap < radius + beyond) touched[i] = byBody;
      }
    }
  }
}
