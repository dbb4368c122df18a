import { excused } from "../../../base/excuse.ts";
import type { Seen } from "../../../base/memo-cell.ts";
import { floats, integers } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { declaredSurfacesOf, type Surface } from "../../../motion/ground/surface.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { depthBetween, depthUnder, heightOver, wayOut } from "../../../staging/depth.ts";
import { type Outline, outlinesOf, pathsOf } from "../../../staging/solids.ts";
import { hiddenAt, isVisible } from "../../../staging/visible.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere, type Span } from "../../../time/span.ts";
import { type Pair, pairsOf } from "./pairs.ts";
import { idOf, type Piece, piecesOf } from "./pieces.ts";

/** One thing goes through another for a while. */
export interface Passage extends Span {
  readonly one: Piece;
  /** What it goes through: a piece, or a surface by its name. */
  readonly other: Piece | string;
  /** Sample at which it is deepest, and how deep it is there, metres. */
  readonly deepest: number;
  readonly depth: number;
  readonly limit: number;
  /** For each sample from the first to the last: how deep, metres, and the unit way by which the one leaves the other. */
  readonly depths: Float64Array;
  readonly ways: Float64Array;
}

/** All passages through things, bodies and surfaces that are deeper than a limit (metres) for some samples. */
export function passagesOf(study: Study, limit: number, least: number): Passage[] {
  const pieces = piecesOf(study);
  if (pieces.every(({ isFlesh }) => isFlesh) && figuresOf(study).length === 0) return [];
  // Pairs are looked for anew after each edit; what is kept is how deep they are.
  const groups = new Map<string, Meeting[]>();
  const add = (name: string, meeting: Meeting) =>
    groups.get(name)?.push(meeting) ?? groups.set(name, [meeting]);
  for (const pair of pairsOf(study, pieces)) add(nameOf(pair), solidMeeting(pair, limit));
  for (const piece of pieces) {
    if (piece.isFlesh || worldOf(study, piece.node).still || isFoot(study, piece)) continue;
    for (const plane of planesOf(study))
      add(`${piece.owner} on ${plane.surface.id}`, planeMeeting(study, piece, plane, limit));
  }
  return [...groups].flatMap(([name, meetings]) => passagesIn(study, name, meetings, least));
}

/**
 * Whether a piece is what a body stands on, by whatever name: how deep feet are in the ground is asked of their points,
 * over the height at which these stand. A leg that is drawn round goes under its point by half of its thickness.
 */
function isFoot(study: Study, { node, figure }: Piece): boolean {
  if (figure < 0) return false;
  const { parent } = rigOf(study);
  return footPointsOf(study, figure).some((point) => point.node === node || parent[point.node] === node);
}

/** Two things that may be in each other; `at` gives how deep at a sample, and leaves the way out in `wayOut`. */
interface Meeting {
  readonly one: Piece;
  readonly other: Piece | string;
  readonly limit: number;
  readonly at: (sample: number) => number;
  readonly allowed: Uint8Array | null;
  /** All that `at` hangs on but paths. */
  readonly sees: readonly Seen[];
  /** Asks for the paths that `at` reads, which are written to in place. */
  ask(study: Study): void;
}

/** All pieces of an object, and all of a body, are one thing each. */
function nameOf({ one, other }: Pair): string {
  const whole = ({ isFlesh, figure, owner }: Piece) => (isFlesh ? `body ${figure}` : `${owner}`);
  return one.isFlesh ? `${one.node} in ${whole(other)}` : `${whole(one)} in ${whole(other)}`;
}

function solidMeeting({ one, other, oneRadius, allowed }: Pair, limit: number): Meeting {
  const hull = { paths: one.paths, radius: oneRadius };
  return {
    ...{ one, other, limit, allowed },
    at: (sample) => depthBetween(hull, other, sample),
    sees: [idOf(one), idOf(other), oneRadius, other.radius, limit, allowed ?? []],
    ask: (study) => {
      pathsOf(study, one.solid);
      pathsOf(study, other.solid);
    },
  };
}

interface Plane {
  readonly surface: Surface;
  readonly outline: Outline | null;
}

/** Surfaces that things can go through: the ground, walls, and what has edges. Of steps without edges the lowest counts. */
function planesOf(study: Study): readonly Plane[] {
  const declared = declaredSurfacesOf(study);
  // A ground that is told by joints lies as high as these, where nobody knows their soles.
  if (declared.length === 0) return [];
  const ground = groundOf(study);
  const outlines = outlinesOf(study);
  return declared.flatMap((surface): Plane[] => {
    const outline = outlines.find(({ id }) => id === surface.id) ?? null;
    const isStep = outline === null && surface.id !== ground.id && surface.normal[1] > 0.5;
    return isStep ? [] : [{ surface, outline }];
  });
}

function planeMeeting(study: Study, piece: Piece, { surface, outline }: Plane, limit: number): Meeting {
  const { normal, height } = surface;
  const isGround = outline === null && normal[1] > 0.5;
  const at = (sample: number) => {
    let depth = depthUnder(piece, normal, height, sample);
    for (let k = 0; k < 3; k++) wayOut[k] = normal[k];
    if (isGround || depth <= 0) return depth;
    // What is wholly behind a wall, or beneath a table, is not in it; it leaves on the side on which most of it is.
    const above = heightOver(piece, normal, height, sample);
    if (above < depth) {
      depth = above;
      for (let k = 0; k < 3; k++) wayOut[k] = -normal[k];
    }
    return outline === null || isWithin(outline, normal, piece, sample) ? depth : 0;
  };
  const hidden = hiddenAt(study, piece.node);
  return {
    ...{ one: piece, other: surface.id, limit, at, allowed: hidden },
    sees: [idOf(piece), surface.id, piece.radius, ...normal, height, isGround ? 1 : 0, limit, hidden ?? []],
    ask: (study) => {
      pathsOf(study, piece.solid);
      if (outline !== null) outlinesOf(study);
    },
  };
}

/** Whether a piece's middle is over the inside of an outline, as seen along the axis that the normal is nearest to. */
function isWithin(
  { corners }: Outline,
  normal: readonly number[],
  { paths }: Piece,
  sample: number,
): boolean {
  const sizes = normal.map(Math.abs);
  const away = sizes.indexOf(Math.max(...sizes));
  const u = (away + 1) % 3;
  const v = (away + 2) % 3;
  const k = 3 * sample;
  const middle = (axis: number) => paths.reduce((sum, path) => sum + path[k + axis], 0) / paths.length;
  const x = middle(u);
  const y = middle(v);
  let inside = false;
  corners.forEach((corner, n) => {
    const next = corners[(n + 1) % corners.length];
    if (corner[k + v] > y === next[k + v] > y) return;
    const share = (y - corner[k + v]) / (next[k + v] - corner[k + v]);
    if (x < corner[k + u] + share * (next[k + u] - corner[k + u])) inside = !inside;
  });
  return inside;
}

/** How deep one thing is in another at each sample, and which of their meetings it is; -1 where none is deeper than its limit. */
interface Depths {
  readonly depths: Float64Array;
  readonly ways: Float64Array;
  readonly which: Int32Array;
}

/** Measures depths at the samples from..to. */
function measureDepths(
  meetings: readonly Meeting[],
  { depths, ways, which }: Depths,
  from: number,
  to: number,
): void {
  depths.fill(0, from, to + 1);
  ways.fill(0, 3 * from, 3 * to + 3);
  which.fill(-1, from, to + 1);
  meetings.forEach(({ at, limit, allowed }, n) => {
    for (let i = from; i <= to; i++) {
      if (allowed !== null && allowed[i] === 1) continue;
      const depth = at(i);
      if (!(depth > limit && depth > depths[i])) continue;
      depths[i] = depth;
      which[i] = n;
      for (let k = 0; k < 3; k++) ways[3 * i + k] = wayOut[k];
    }
  });
}

/** The passages of one thing through another, over all pieces of both. */
function passagesIn(study: Study, name: string, meetings: readonly Meeting[], least: number): Passage[] {
  const { count } = gridOf(study);
  const { depths, ways, which } = study.memo.keepPatched(
    study,
    `depths of ${name}`,
    meetings.flatMap(({ sees }) => sees),
    () => {
      for (const meeting of meetings) meeting.ask(study);
      const fresh = { depths: floats(count), ways: floats(3 * count), which: integers(gridOf(study).count) };
      measureDepths(meetings, fresh, 0, count - 1);
      return fresh;
    },
    (kept, from, to) => {
      for (const meeting of meetings) meeting.ask(study);
      measureDepths(meetings, kept, from, Math.min(to, count - 1));
      return [from, to];
    },
  );
  return runsWhere(count, (i) => which[i] >= 0).flatMap(({ from, to }): Passage[] => {
    if (to - from + 1 < least) return [];
    let deepest = from;
    for (let i = from; i <= to; i++) if (depths[i] > depths[deepest]) deepest = i;
    const { one, other, limit } = meetings[which[deepest]];
    if (isBuiltIn(study, one, other, { from, to }, which)) return [];
    return [
      {
        ...{ one, other, from, to, deepest, limit, depth: depths[deepest] },
        depths: depths.slice(from, to + 1),
        ways: ways.slice(3 * from, 3 * to + 3),
      },
    ];
  });
}

/**
 * What is in another from the first frame on is worn, or lies in it; through a surface, where it is so all along. Frames on
 * which either is hidden say nothing: a lamp that flickers stands where it stood.
 * @param which at each sample the meeting that is deepest, -1 where none is
 */
function isBuiltIn(
  study: Study,
  one: Piece,
  other: Piece | string,
  { from, to }: Span,
  which: Int32Array,
): boolean {
  const last = typeof other === "string" ? which.length : from;
  for (let i = 0; i < last; i++) {
    if (which[i] >= 0 || !isVisible(study, one.node, i)) continue;
    if (typeof other === "string" || isVisible(study, other.node, i)) return false;
  }
  excused(one.node, from, to, "it is in the other from the first frame on, as what is worn or lies in it");
  return true;
}
