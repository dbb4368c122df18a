import { type Study, shotMeasure } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { fitParabola } from "../../../motion/body/parabola.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { type Prop, propsOf } from "../../../rig/props.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { byBody, touchedAt, untouched } from "./touched.ts";

/** A stretch in which a thing that a body has let go of, or takes next, is in the air. */
export interface ThingFlight extends Span {
  readonly thing: number;
  /** Index of the figure that lets it go, or else takes it. */
  readonly figure: number;
  /** Downward acceleration of its own place, m/s²: least-squares parabola. */
  readonly gravity: number;
  /** Root mean square of what that parabola leaves, metres. */
  readonly residual: number;
  /** Horizontal acceleration, m/s². */
  readonly drift: number;
}

/** Shortest flight, samples: a parabola takes three, and a bend of its fall is told by as many again. */
const fewestSamples = 6;
/** A thing goes up or down by so much in a flight, body heights: what keeps its level slides or rolls. */
const leastHeight = 0.03;
/** The flights of all things that hands or other parts of bodies let go of, or take, in the order of the things. */
export const thingFlightsOf = shotMeasure<readonly ThingFlight[]>(
  "flights of things",
  (study) =>
    figuresOf(study).length === 0
      ? []
      : propsOf(study).flatMap((prop) =>
          worldOf(study, prop.node).still ? [] : flightsOfThing(study, prop),
        ),
  (a, b) =>
    a.length === b.length &&
    a.every((flight, i) => {
      const other = b[i];
      return (
        flight.thing === other.thing &&
        flight.figure === other.figure &&
        flight.from === other.from &&
        flight.to === other.to &&
        flight.gravity === other.gravity &&
        flight.residual === other.residual &&
        flight.drift === other.drift
      );
    }),
);

function flightsOfThing(study: Study, { node }: Prop): ThingFlight[] {
  const { count } = gridOf(study);
  if (onTwosOf(study, node) > 1) return [];
  const touched = touchedAt(study, node);
  const found: ThingFlight[] = [];
  for (let from = 0, to = 0; from < count; from = to + 1) {
    to = from;
    if (touched[from] !== untouched) continue;
    while (to + 1 < count && touched[to + 1] === untouched) to++;
    const isThrown = from > 0 && touched[from - 1] === byBody;
    const isTaken = to + 1 < count && touched[to + 1] === byBody;
    if (to - from + 1 < fewestSamples || !(isThrown || isTaken)) continue;
    if (isCutBetween(cutsOf(study, node), from, to)) continue;
    const flight = flightOf(study, node, isThrown ? from - 1 : to + 1, { from, to });
    if (flight !== null) found.push(flight);
  }
  return found;
}

/** @param by sample at which a body touches the thing */
function flightOf(study: Study, thing: number, by: number, { from, to }: Span): ThingFlight | null {
  const { dt } = gridOf(study);
  const figure = figureAt(study, thing, by);
  const stature = statureOf(study, figure);
  const { position } = worldOf(study, thing);
  let [low, high] = [position[3 * from + 1], position[3 * from + 1]];
  for (let i = from; i <= to; i++) {
    low = Math.min(low, position[3 * i + 1]);
    high = Math.max(high, position[3 * i + 1]);
  }
  if (high - low < leastHeight * stature) return null;
  const fit = fitParabola(position, from, to, dt);
  if (fit === null) return null;
  const x = fitParabola(position, from, to, dt, 3, 0)?.gravity ?? 0;
  const z = fitParabola(position, from, to, dt, 3, 2)?.gravity ?? 0;
  const { gravity, residual } = fit;
  return { thing, figure, from, to, gravity, residual, drift: Math.hypot(x, z) };
}

/** The figure that holds a thing at a sample, or whose nearest node is nearest to it. */
function figureAt(study: Study, thing: number, i: number): number {
  const grip = gripsOf(study).find((one) => one.thing === thing && one.from <= i && one.to >= i);
  if (grip !== undefined) return grip.figure;
  const { position } = worldOf(study, thing);
  let [nearest, best] = [Number.POSITIVE_INFINITY, 0];
  figuresOf(study).forEach(({ nodes }, figure) => {
    for (const node of nodes) {
      const distance = distanceBetween(position, i, worldOf(study, node).position, i);
      if (distance < nearest) [nearest, best] = [distance, figure];
    }
  });
  return best;
}
