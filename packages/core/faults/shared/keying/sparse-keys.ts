import type { Study } from "../../../base/study.ts";
import { valueAt } from "../../../curve/evaluate.ts";
import { bezierMode, cubicMode, smoothMode } from "../../../curve/keys.ts";
import { type KeyEdit, type SetKey, tryEditShot } from "../../../document/edit.ts";
import type { Curve, Shot } from "../../../document/model.ts";
import type { FrameSpan, Keying, KeyPlacing } from "./keying.ts";
import { decimalsOf, rounded, toleranceOf } from "./precision.ts";
import type { Track } from "./track.ts";

/** A key that the stretch is to have, at its new frame. */
interface Chosen {
  readonly frame: number;
  /** The curve's own key that is made into it (its index); -1 where it is a new one. */
  readonly source: number;
  /** The curve's own key that was to come to this frame; -1 for a key that is put in. */
  readonly origin: number;
}

/** How a stretch of sparse keys is laid. */
export interface SparseLaying {
  readonly keying: Keying;
  readonly placing: KeyPlacing;
  /** How many times the usual tolerance the keys may be off the course. */
  readonly loose: number;
  /** Once more keys than this have come in nobody asks how many it would take. */
  readonly most: number;
}

/** More keys than this in a stretch, and it would be keyed on every frame anyway. */
const mostKeys = 200;

/**
 * Makes sparse keys follow a course: the keys that are there take its values and slopes, and keys are put in where it
 * is missed most until it is followed within the tolerance.
 */
export function sparseKeys(
  study: Study,
  track: Track,
  curve: Curve,
  span: FrameSpan,
  laying: SparseLaying,
  course: (frame: number) => number,
): KeyEdit[] {
  const best = fewestKeys(new Fitting(study, track, curve, span, laying, course), span);
  if (laying.keying !== "smooth") return best;
  // Smooth keys have no handles: a course that is not theirs by nature may take fewer keys that have.
  const handled = new Fitting(study, track, curve, span, { ...laying, keying: "bezier" }, course);
  const other = fewestKeys(handled, span);
  return other.length + 2 < best.length ? other : best;
}

/** The fit with the fewest edits: keys where they are needed most, with or without one at each end of the span. */
function fewestKeys(fitting: Fitting, { from, to }: FrameSpan): KeyEdit[] {
  const plain = fitting.fit([]);
  const bounded = fitting.fit([from, to]);
  if (plain.isWhole !== bounded.isWhole) return plain.isWhole ? plain.edits : bounded.edits;
  return bounded.edits.length < plain.edits.length ? bounded.edits : plain.edits;
}

class Fitting {
  private readonly track: Track;
  private readonly curve: Curve;
  private readonly keying: Keying;
  private readonly course: (frame: number) => number;
  private readonly decimals: number;
  private readonly tolerance: number;
  /** The frames between which the curve may change: those of the enclosing keys, or the span's own. */
  private readonly lo: number;
  private readonly hi: number;
  /** The keys that enclose the span and keep their values; -1 where the curve starts or ends within it. */
  private readonly enclosing: readonly [number, number];
  private readonly shot: Shot;
  private readonly placing: KeyPlacing;
  private readonly most: number;
  /** What becomes of a key, by it and its neighbours. */
  private readonly known = new Map<string, SetKey | null>();

  constructor(
    study: Study,
    track: Track,
    curve: Curve,
    { from, to }: FrameSpan,
    { keying, placing, loose, most }: SparseLaying,
    course: (frame: number) => number,
  ) {
    this.placing = placing;
    this.most = most;
    this.track = track;
    this.curve = curve;
    this.keying = keying;
    this.decimals = decimalsOf(study, track.node, track.channel);
    this.tolerance = loose * toleranceOf(study, track.node, track.channel);
    this.course = (frame) => (frame <= from || frame >= to ? valueAt(curve, frame) : course(frame));
    const { frames } = curve;
    const before = frames.findLastIndex((frame) => frame <= from);
    const after = frames.findIndex((frame) => frame >= to);
    this.enclosing = [before, after];
    this.lo = before < 0 ? from : frames[before];
    this.hi = after < 0 ? to : frames[after];
    this.shot = {
      header: { nodes: [{ id: curve.node }] } as Shot["header"],
      frameRate: { numerator: 24, denominator: 1 },
      range: [0, 0],
      curves: [curve],
    };
  }

  /** Edits that follow the course, with keys at the given frames in any case; whether they do it to their end. */
  fit(forced: readonly number[]): { edits: KeyEdit[]; isWhole: boolean } {
    const chosen = this.start(forced);
    for (;;) {
      const edits = this.edits(chosen);
      const worst = this.worst(edits, chosen);
      if (worst === null || chosen.length >= mostKeys) return { edits, isWhole: true };
      if (chosen.reduce((sum, { source }) => sum + Number(source < 0), 0) > this.most)
        return { edits, isWhole: false };
      chosen.push({ frame: worst, source: -1, origin: -1 });
      chosen.sort((a, b) => a.frame - b.frame);
    }
  }

  private start(forced: readonly number[]): Chosen[] {
    const chosen: Chosen[] = [];
    this.curve.frames.forEach((frame, source) => {
      if (frame < this.lo || frame > this.hi) return;
      const isEnd = this.enclosing.includes(source);
      const placed = isEnd ? frame : this.placing(frame);
      if (placed === null || (!isEnd && (placed <= this.lo || placed >= this.hi))) return;
      if (chosen.some((key) => Math.abs(key.frame - placed) < 0.5)) return;
      chosen.push({ frame: placed, source, origin: source });
    });
    for (const frame of forced) {
      if (chosen.some((key) => Math.abs(key.frame - frame) < 0.5)) continue;
      chosen.push({ frame, source: -1, origin: -1 });
    }
    return chosen.sort((a, b) => a.frame - b.frame);
  }

  /** The whole frame at which the edited curve misses the course most, null where it follows it. */
  private worst(edits: readonly KeyEdit[], chosen: readonly Chosen[]): number | null {
    const edited = tryEditShot(this.shot, edits).shot.curves[0] ?? this.curve;
    let most = this.tolerance;
    let worst: number | null = null;
    const taken = new Set(chosen.map(({ frame }) => frame));
    for (let frame = Math.ceil(this.lo + 1e-6); frame < this.hi - 1e-6; frame++) {
      if (taken.has(frame)) continue;
      const off = Math.abs(valueAt(edited, frame) - this.course(frame));
      if (off > most) {
        most = off;
        worst = frame;
      }
    }
    return worst;
  }

  /**
   * The chosen keys, each made of one of the curve's own where that is possible. An edit names a key by where it stands, so
   * that a key that comes in where one stands is made of that one, even if it was to go elsewhere: what is made there
   * instead comes in anew, or is made of the key that stands there in its turn.
   */
  private withSources(chosen: readonly Chosen[]): Chosen[] {
    const standing = new Map<number, number>();
    this.curve.frames.forEach((frame, source) => {
      standing.set(frame, source);
    });
    const sources = chosen.map(({ source }) => source);
    for (let first = 0; first < chosen.length; first++) {
      for (let at = first; at >= 0 && sources[at] < 0; ) {
        const there = standing.get(chosen[at].frame);
        if (there === undefined) break;
        const other = sources.indexOf(there);
        sources[at] = there;
        if (other >= 0) sources[other] = -1;
        at = other;
      }
    }
    return chosen.map((key, at) => ({ ...key, source: sources[at] }));
  }

  private edits(asked: readonly Chosen[]): KeyEdit[] {
    const edits: KeyEdit[] = [];
    const chosen = this.withSources(asked);
    const kept = new Set(chosen.map(({ source }) => source));
    const { id, channel } = this.track;
    this.curve.frames.forEach((frame, source) => {
      if (frame < this.lo || frame > this.hi || kept.has(source)) return;
      edits.push({ kind: "remove", node: id, channel, frame });
    });
    const names = chosen.map(({ frame, source, origin }) => `${frame} ${source} ${origin}`);
    chosen.forEach((key, at) => {
      // A key that comes in changes what its neighbours are, and nothing else.
      const name = `${names[at - 1]}, ${names[at]}, ${names[at + 1]}`;
      let edit = this.known.get(name);
      if (edit === undefined) {
        edit = this.edit(key, chosen[at - 1], chosen[at + 1]);
        this.known.set(name, edit);
      }
      const own = key.source < 0 ? key.frame : this.curve.frames[key.source];
      if (edit !== null) edits.push({ ...edit, frame: own });
      if (own !== key.frame) edits.push({ kind: "move", node: id, channel, frame: own, toFrame: key.frame });
    });
    return edits;
  }

  private edit(key: Chosen, before: Chosen | undefined, after: Chosen | undefined): SetKey | null {
    const { curve, decimals, keying } = this;
    const { id, channel } = this.track;
    const { frame, source } = key;
    const isOwn = source >= 0;
    const value = this.course(frame);
    const keeps = isOwn && Math.abs(value - curve.values[source]) < 0.5 * 10 ** -decimals;
    const carriedIn = before !== undefined && this.isCarried(before, key);
    const carriedOut = after !== undefined && this.isCarried(key, after);
    // A key that comes along with what is carried brings its handles with it.
    const comes = isOwn && source === key.origin;
    const inward = before !== undefined && !(carriedIn && comes);
    const outward = after !== undefined && !(carriedOut && comes);
    if (keeps && !inward && !outward) return null;
    const base = {
      kind: "set",
      node: id,
      channel,
      frame,
      value: keeps ? curve.values[source] : rounded(value, decimals),
    } as const;
    const mode = { smooth: smoothMode, cubic: cubicMode }[keying as string] ?? bezierMode;
    const ownMode = isOwn ? curve.modes[source] : undefined;
    const defaultMode = this.defaultMode();
    const interpolation =
      outward && (ownMode ?? defaultMode) !== mode
        ? { interpolation: mode === defaultMode ? null : nameOf(mode) }
        : {};
    if (keying === "smooth") {
      if (keeps && Object.keys(interpolation).length === 0) return null;
      return { ...base, ...interpolation };
    }
    const slopes = this.slopes(frame, inward ? before.frame : null, outward ? after.frame : null);
    const made = {
      in: inward ? this.handle(frame, before.frame, slopes[0]) : undefined,
      out: outward ? this.handle(frame, after.frame, slopes[1]) : undefined,
    };
    const handles = {
      ...(inward ? { in: (carriedIn ? this.ownHandle(key.origin, "in") : undefined) ?? made.in } : {}),
      ...(outward ? { out: (carriedOut ? this.ownHandle(key.origin, "out") : undefined) ?? made.out } : {}),
    };
    return { ...base, ...(Object.keys(handles).length === 0 ? {} : { handles }), ...interpolation };
  }

  private defaultMode(): number {
    return { step: 0, linear: 1, smooth: smoothMode, bezier: bezierMode, cubic: cubicMode }[
      this.curve.interpolation
    ];
  }

  /** A handle a third of the way to a neighbour, along a slope; the slope itself where the keys are cubic. */
  private handle(frame: number, neighbour: number, slope: number): HandleValue {
    const span = neighbour - frame;
    if (this.keying === "cubic") return rounded(slope, this.decimals + 1);
    return [rounded(span / 3, 3), rounded((slope * span) / 3, this.decimals)];
  }

  /**
   * Slopes of a key toward both neighbours: those of the course, limited so that the curve stays between its keys (level
   * at a turn, nowhere more than three times as steep as the way to a neighbour: Fritsch & Carlson 1980). One slope for
   * both sides, unless the course itself has a corner there.
   */
  private slopes(frame: number, before: number | null, after: number | null): [number, number] {
    const value = this.course(frame);
    const way = (other: number | null) =>
      other === null ? null : (this.course(other) - value) / (other - frame);
    const [left, right] = [way(before), way(after)];
    const [a, b] = [this.slope(frame, -1), this.slope(frame, 1)];
    const isCorner = Math.abs(a - b) > 0.3 * Math.max(Math.abs(a), Math.abs(b)) + this.tolerance;
    if (left === null || right === null || isCorner) return [limited(a, left), limited(b, right)];
    const slope = limited(limited(0.5 * (a + b), left), right);
    return [slope, slope];
  }

  /** Slope of the course on one side of a frame, from three points. */
  private slope(frame: number, side: number): number {
    const h = 0.25 * side;
    const [a, b, c] = [this.course(frame), this.course(frame + h), this.course(frame + 2 * h)];
    return (-3 * a + 4 * b - c) / (2 * h);
  }

  /**
   * Whether the stretch from one chosen key to the next is to be what it was between two keys of the curve, there or as far
   * away in time as both keys are moved.
   */
  private isCarried(a: Chosen, b: Chosen): boolean {
    if (a.origin < 0 || b.origin !== a.origin + 1) return false;
    const { frames } = this.curve;
    const by = a.frame - frames[a.origin];
    if (Math.abs(b.frame - frames[b.origin] - by) > 1e-9) return false;
    const steps = Math.max(4, Math.ceil(b.frame - a.frame));
    const least = 0.1 * this.tolerance;
    for (let i = 0; i <= steps; i++) {
      const frame = a.frame + ((b.frame - a.frame) * i) / steps;
      if (Math.abs(this.course(frame) - valueAt(this.curve, frame - by)) > least) return false;
    }
    return true;
  }

  /** A handle as a key of the curve has it; undefined where it has none. */
  private ownHandle(key: number, side: "in" | "out"): HandleValue | undefined {
    const { handles } = this.curve;
    if (handles === null) return undefined;
    const at = 4 * key + (side === "in" ? 0 : 2);
    const [time, value] = [handles[at], handles[at + 1]];
    if (Number.isNaN(value)) return undefined;
    return Number.isNaN(time) ? value : [time, value];
  }
}

type HandleValue = NonNullable<NonNullable<SetKey["handles"]>["in"]>;

function nameOf(mode: number): "smooth" | "bezier" | "cubic" {
  return mode === smoothMode ? "smooth" : mode === cubicMode ? "cubic" : "bezier";
}

/** A slope that keeps a curve between two keys, given the way from one to the other; any where there is no other. */
function limited(slope: number, way: number | null): number {
  if (way === null) return slope;
  return slope * way <= 0 ? 0 : Math.sign(slope) * Math.min(Math.abs(slope), 3 * Math.abs(way));
}
