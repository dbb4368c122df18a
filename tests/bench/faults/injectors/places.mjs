/** Where faults can go: what a base's nodes do, looked up once per base. */
import {
  contactsOf,
  figureOfNode,
  figuresOf,
  flightsOf,
  gridOf,
  impactsOf,
  reachOf,
  rigOf,
  statureOf,
  subtreeOf,
  worldOf,
} from "@keyside/core";
import { farReachOf } from "@keyside/core/internal";
import { studyOf } from "../bases/index.mjs";
import { curveAt } from "../keyed.mjs";

const known = new WeakMap();

/** A base with what is asked of it again and again. */
export function facts(base) {
  let found = known.get(base);
  if (found === undefined) {
    const study = studyOf(base.shot);
    const rig = rigOf(study);
    const { count, rate } = gridOf(study);
    const [first, last] = base.shot.range;
    const stature = figuresOf(study).length > 0 ? statureOf(study, 0) : 1.7;
    found = {
      base,
      study,
      rig,
      count,
      rate,
      first,
      last,
      stature,
      figures: figuresOf(study),
      moves: new Map(),
    };
    known.set(base, found);
  }
  return found;
}

/** Curves of one kind of a node, for example "rotation"; empty where there is none. */
export function curvesOf(base, id, kind) {
  return ["x", "y", "z"].flatMap((axis) => {
    const curve = base.curves.get(`${id} ${kind}.${axis}`);
    return curve === undefined || curve.interpolation === "step" ? [] : [curve];
  });
}

/** A node's id and those of all that hangs on it. */
export function below(base, id) {
  const { rig } = facts(base);
  return new Set(subtreeOf(rig, rig.indexOf.get(id)).map((node) => rig.ids[node]));
}

/** Nodes that something hangs on and whose rotation has curves that change. */
export function turningNodes(base) {
  const { rig } = facts(base);
  return rig.ids.filter(
    (id, node) => rig.children[node].length > 0 && curvesOf(base, id, "rotation").some(changes),
  );
}

export function changes({ keys }) {
  return keys.some(({ value }) => Math.abs(value - keys[0].value) > 1e-3);
}

/** Whether the body has an impact within some frames of a frame. */
export function nearImpact(base, id, frame, within = 3) {
  const { study, rig, first, count } = facts(base);
  const figure = figureOfNode(study, rig.indexOf.get(id));
  if (figure < 0) return false;
  const impacts = impactsOf(study, figure);
  for (let i = frame - first - within; i <= frame - first + within; i++) {
    if (i >= 0 && i < count && impacts[i] === 1) return true;
  }
  return false;
}

/** Whether a contact of the node's figure begins or ends near a frame. */
export function nearContact(base, id, frame, within = 3) {
  const { study, rig, first } = facts(base);
  const figure = figureOfNode(study, rig.indexOf.get(id));
  if (figure < 0) return false;
  return contactsOf(study, figure).some(({ from, to }) =>
    [from, to + 1].some((edge) => Math.abs(first + edge - frame) <= within),
  );
}

/** Whether the node's figure touches anything at a frame. */
export function standsAt(base, id, frame) {
  const { study, rig, first } = facts(base);
  const figure = figureOfNode(study, rig.indexOf.get(id));
  if (figure < 0) return false;
  return contactsOf(study, figure).some(({ from, to }) => from <= frame - first && frame - first <= to);
}

/** Distance, in metres, that a node goes in the world from the frame before to a frame. */
export function stepOf(base, node, frame) {
  const { study, first } = facts(base);
  const { position } = worldOf(study, node);
  const k = 3 * (frame - first);
  return Math.hypot(
    position[k] - position[k - 3],
    position[k + 1] - position[k - 2],
    position[k + 2] - position[k - 1],
  );
}

/** Angle, in radians, that a node turns in the world from the frame before to a frame. */
export function turnOf(base, node, frame) {
  const { study, first } = facts(base);
  const q = worldOf(study, node).orientation;
  const k = 4 * (frame - first);
  let dot = 0;
  for (let i = 0; i < 4; i++) dot += q[k + i] * q[k - 4 + i];
  return 2 * Math.acos(Math.min(1, Math.abs(dot)));
}

/** How far a node's own keys turn it between two times, about, in degrees: the length of the change of its angles. */
export function ownTurn(curves, from, to) {
  let sum = 0;
  for (const curve of curves) sum += (curveAt(curve, to) - curveAt(curve, from)) ** 2;
  return Math.sqrt(sum);
}

/**
 * Moves of a node by its own rotation keys: runs of frames in which it turns faster than `least` degrees a frame,
 * between frames in which it does not.
 */
export function ownMoves(base, id, least = 0.25) {
  const { moves: kept } = facts(base);
  const name = `${id} ${least}`;
  if (!kept.has(name)) kept.set(name, findMoves(base, id, least));
  return kept.get(name);
}

function findMoves(base, id, least) {
  const { first, last } = facts(base);
  const curves = curvesOf(base, id, "rotation");
  const moves = [];
  let from = -1;
  for (let frame = first + 1; frame <= last + 1; frame++) {
    const turning = frame <= last && ownTurn(curves, frame - 1, frame) > least;
    if (turning && from < 0) from = frame - 1;
    if (turning || from < 0) continue;
    moves.push(moveOf(curves, from, frame - 1));
    from = -1;
  }
  return moves;
}

function moveOf(curves, from, to) {
  let peak = from + 1;
  let speed = 0;
  let travel = 0;
  for (let frame = from + 1; frame <= to; frame++) {
    const step = ownTurn(curves, frame - 1, frame);
    travel += step;
    if (step > speed) {
      speed = step;
      peak = frame;
    }
  }
  return { from, to, peak, speed, travel };
}

export { contactsOf, farReachOf, flightsOf, impactsOf, reachOf, worldOf };
