import {
  type BodyPart,
  type Contact,
  type Curve,
  chainOf,
  clearanceOf,
  contactsOf,
  curveOf,
  type Figure,
  figureOfNode,
  figuresOf,
  gridOf,
  interpolations,
  massCentreOf,
  metresPerUnitOf,
  type Note,
  nodeNameOf,
  type Rig,
  rigOf,
  type Shot,
  type Study,
  sampleCurve,
  statureOf,
  supportPolygonOf,
  worldOf,
} from "@keyside/core";
import { commonCentreOf } from "@keyside/core/internal";
import { distance, inverse, product, type Quat, range, type Vec } from "./geometry.ts";

/** A shot as positions and turns at its judged frames: all that a recomputer may look at besides the keys. */
export class Sampled {
  readonly shot: Shot;
  readonly rig: Rig;
  readonly count: number;
  /** Judged frames per second, seconds from one to the next, document frames from one to the next. */
  readonly rate: number;
  readonly dt: number;
  readonly step: number;
  readonly frames: Float64Array;
  readonly figures: readonly Figure[];
  private readonly study: Study;
  /** For what is data and no result: the thickness of bones. */
  get whole(): Study {
    return this.study;
  }

  constructor(shot: Shot, study: Study) {
    this.shot = shot;
    this.study = study;
    this.rig = rigOf(study);
    const { count, rate, dt, step, frames } = gridOf(study);
    [this.count, this.rate, this.dt, this.step, this.frames] = [count, rate, dt, step, frames];
    this.figures = figuresOf(study);
  }

  /** Rig index of a node's id. @throws Error where there is none */
  node(id: string | null | undefined): number {
    const index = id == null ? undefined : this.rig.indexOf.get(id);
    if (index === undefined) throw new Error(`no node ${id}`);
    return index;
  }

  /** The node whose number a note tells: the first on which the fault shows. */
  nodeOf({ node, seenAt }: Note): number {
    return this.node(seenAt[0] ?? node);
  }

  /** First and last sample of a note. */
  spanOf(note: Note): [number, number] {
    return [this.sample(note.frames[0]), this.sample(note.frames[1])];
  }

  sample(frame: number): number {
    return Math.min(this.count - 1, Math.max(0, Math.round((frame - this.frames[0]) / this.step)));
  }

  at(node: number, i: number): Vec {
    const { position } = worldOf(this.study, node);
    return [position[3 * i], position[3 * i + 1], position[3 * i + 2]];
  }

  turn(node: number, i: number): Quat {
    const { orientation: q } = worldOf(this.study, node);
    return [q[4 * i], q[4 * i + 1], q[4 * i + 2], q[4 * i + 3]];
  }

  /** Orientation of a node as it is seen from another one. */
  turnIn(node: number, carrier: number, i: number): Quat {
    return product(inverse(this.turn(carrier, i)), this.turn(node, i));
  }

  /** What messages call a node. */
  nameOf(node: number): string {
    return nodeNameOf(this.study, node);
  }

  figureOf(node: number): number {
    return figureOfNode(this.study, node);
  }

  /** Body height in metres of the figure of a node; of the first one where it belongs to none. */
  stature(node: number): number {
    const figure = this.figureOf(node);
    if (figure < 0 && this.figures.length === 0) return 1.7;
    return statureOf(this.study, Math.max(0, figure));
  }

  /** Part of the body that a node is; "" where it is none. */
  partOf(node: number): string {
    return this.figures[this.figureOf(node)]?.partOf.get(node) ?? "";
  }

  /** Nodes of a part of the figure of a node, from the base outwards. */
  parts(node: number, part: string): readonly number[] {
    return this.figures[this.figureOf(node)]?.parts.get(part as BodyPart) ?? [];
  }

  /** The first node of a part. @throws Error where the figure has none */
  part(node: number, part: string): number {
    const [first] = this.parts(node, part);
    if (first === undefined) throw new Error(`no ${part}`);
    return first;
  }

  /** The joint that carries the figure of a node. */
  hips(node: number): number {
    return this.parts(node, "root")[0] ?? this.figures[this.figureOf(node)].root;
  }

  chest(node: number): number {
    return (
      this.parts(node, "chest").at(-1) ??
      this.parts(node, "spine").at(-1) ??
      this.figures[this.figureOf(node)].root
    );
  }

  /** The contacts of a figure: which node stands on what, and from which sample to which. */
  contacts(figure: number): readonly Contact[] {
    return contactsOf(this.study, figure);
  }

  /** Normal of the surface on which a node, or the part of the foot next to it, stands at a sample. */
  normalUnder(node: number, i: number): Vec {
    const near = this.contacts(this.figureOf(node)).filter(({ from, to }) => from <= i && i <= to);
    const own = near.find((contact) => contact.node === node || this.rig.parent[contact.node] === node);
    return own?.surface.normal ?? [0, 1, 0];
  }

  /** What a figure stands on: corners [x, z] around its points in contact. */
  hull(figure: number, i: number): readonly (readonly [number, number])[] {
    return supportPolygonOf(this.study, figure, i);
  }

  /** Height of the lowest point of a figure over the ground; 0 for feet that stand. */
  clearance(figure: number, i: number): number {
    return clearanceOf(this.study, figure)[i];
  }

  massCentre(figure: number, i: number): Vec {
    const centre = massCentreOf(this.study, figure);
    return [centre[3 * i], centre[3 * i + 1], centre[3 * i + 2]];
  }

  /** With the loads that the figure carries. */
  commonCentre(figure: number, i: number): Vec {
    const centre = commonCentreOf(this.study, figure);
    return [centre[3 * i], centre[3 * i + 1], centre[3 * i + 2]];
  }

  get metresPerUnit(): number {
    return metresPerUnitOf(this.study);
  }

  /** The distance to the farthest child in the first frame; of a tip to its parent. */
  reach(node: number): number {
    const { children, parent } = this.rig;
    const away = (other: number) => distance(this.at(node, 0), this.at(other, 0));
    return Math.max(0, ...children[node].map(away)) || (parent[node] < 0 ? 0 : away(parent[node]));
  }

  /** The longest way along the bones below a node, in the first frame; of a tip the bone that leads to it. */
  reachBelow(node: number): number {
    const below = (from: number): number =>
      Math.max(
        0,
        ...this.rig.children[from].map(
          (child) => distance(this.at(from, 0), this.at(child, 0)) + below(child),
        ),
      );
    const parent = this.rig.parent[node];
    return below(node) || (parent < 0 ? 0 : distance(this.at(parent, 0), this.at(node, 0)));
  }

  curve(node: string, channel: string): Curve {
    const curve = curveOf(this.study, `${node} ${channel}`);
    if (curve === null) throw new Error(`no curve ${node} ${channel}`);
    return curve;
  }

  curvesOf(node: number): readonly Curve[] {
    return this.shot.curves.filter((curve) => curve.node === this.rig.ids[node]);
  }

  /** Values of a curve at the judged frames, `width` numbers each. */
  values(curve: Curve): Float64Array {
    const out = new Float64Array(curve.width * this.count);
    sampleCurve(curve, this.frames, out);
    return out;
  }

  /**
   * Samples at which step keys alone keep a node where it was: none of the curves that drive it, or what it hangs on,
   * changes, and at least one of them is on a step segment.
   */
  held(node: number): readonly boolean[] {
    const known = this.heldAt.get(node);
    if (known !== undefined) return known;
    const curves = chainOf(this.rig, node).flatMap((at) => this.curvesOf(at));
    const stepped = curves.filter(({ modes }) => [...modes].some((mode) => interpolations[mode] === "step"));
    const held = new Array<boolean>(this.count).fill(false);
    if (stepped.length > 0) {
      const changes = new Array<boolean>(this.count).fill(false);
      for (const curve of curves) {
        const { width } = curve;
        const values = this.values(curve);
        for (let i = 1; i < this.count; i++) {
          for (let k = width * i; k < width * (i + 1); k++)
            if (values[k] !== values[k - width]) changes[i] = true;
        }
      }
      for (const i of range(1, this.count - 1)) {
        held[i] = !changes[i] && stepped.some((curve) => isOnStep(curve, this.frames[i - 1], this.frames[i]));
      }
    }
    this.heldAt.set(node, held);
    return held;
  }
  private readonly heldAt = new Map<number, readonly boolean[]>();
}

/** Whether all segments of a curve between two moments are step segments. */
function isOnStep({ frames, modes }: Curve, before: number, after: number): boolean {
  const first = frames.findLastIndex((frame) => frame <= before);
  if (first < 0 || first >= frames.length - 1) return false;
  for (let key = first; key < frames.length - 1 && frames[key] < after; key++) {
    if (interpolations[modes[key]] !== "step") return false;
  }
  return true;
}
