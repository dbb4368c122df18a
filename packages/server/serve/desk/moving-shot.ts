import { type Note, type ResolvedSettings, type Shot, ShotSession, type Study, studyOf } from "@keyside/core";
import type { DeskNote, MotionChange } from "@keyside/desk/link";
import type { Motion, MotionFix } from "@keyside/player/motion";
import { drawnOf, moveOf, packed, shownOf } from "../../present/sheet/moving.ts";
import { Points } from "../../present/sheet/points.ts";
import { stableShot } from "../feed/stable-shot.ts";

/** How a shot moves while it is edited: all of it once, then what has moved otherwise since it was last told. */
export class MovingShot {
  private readonly settings: ResolvedSettings;
  private readonly session: ShotSession;
  private readonly points = new Points();
  private motion: Motion;
  /**
   * Where each point was when it was last told; points behind these were not told yet. Copies: the session writes to its
   * own paths where an edit reaches them.
   */
  private told: Float64Array[] = [];

  constructor(shot: Shot, name: string, settings: ResolvedSettings) {
    this.settings = settings;
    // Nobody judges here: the feed does. What is kept between edits is the poses.
    this.session = new ShotSession(shot, settings, true);
    this.motion = this.drawn(name);
  }

  get study(): Study {
    return this.session.study;
  }

  /** All of the motion as it is now, without notes. */
  whole(): Motion {
    this.motion = this.drawn(this.motion.name);
    return this.motion;
  }

  /** Takes the shot as it is after an edit; costs little, as nothing is posed before it is asked for. */
  take(shot: Shot): void {
    this.session.takeShot(stableShot(this.session.shot, shot));
  }

  /**
   * What moves otherwise than was told.
   * @returns null where nothing does; "all" where the shot has other frames than before
   */
  changes(): MotionChange | "all" | null {
    const { study, told, points, motion } = this;
    const paths = points.series.slice(0, told.length).map(({ on }) => on(study));
    if (paths.some((path) => path.length !== 3 * motion.count)) return "all";
    let [from, to] = [Number.POSITIVE_INFINITY, -1];
    const moved: number[] = [];
    paths.forEach((path, point) => {
      const before = told[point];
      const most = motion.grain / 2;
      let first = 0;
      while (first < path.length && Math.abs(path[first] - before[first]) <= most) first++;
      if (first === path.length) return;
      let last = path.length - 1;
      while (Math.abs(path[last] - before[last]) <= most) last--;
      from = Math.min(from, Math.floor(first / 3));
      to = Math.max(to, Math.floor(last / 3));
      moved.push(point);
    });
    if (moved.length === 0) return null;
    for (const point of moved) told[point].set(paths[point]);
    const within = moved.map((point) => paths[point].subarray(3 * from, 3 * to + 3));
    return { points: moved, from, to, places: packed(within, to - from + 1, motion.grain) };
  }

  /** The point that a node is, by its rig index; null where it is none that is drawn. */
  readonly pointOf = (node: number): number | null => this.points.find(node);

  /** What the player shows of notes; asking for a point anew may make it, which {@link newPoints} tells. */
  shown(note: Note): DeskNote["shown"] {
    return shownOf(this.study, note, this.points);
  }

  /** Points that were made since they were last told; null for none. */
  newPoints(): MotionChange | null {
    const { study, told, points, motion } = this;
    const fresh = points.series.slice(told.length).map(({ on }) => on(study));
    if (fresh.length === 0) return null;
    const numbers = fresh.map((_, at) => told.length + at);
    for (const path of fresh) told.push(path.slice());
    this.motion = { ...motion, points: told.length };
    return {
      points: numbers,
      from: 0,
      to: motion.count - 1,
      places: packed(fresh, motion.count, motion.grain),
    };
  }

  /** What a change does to the motion, null where nothing moves that is drawn; and the changed shot. */
  moveTo(title: string, shot: Shot): { readonly motion: MotionFix | null; readonly study: Study } {
    const changed = studyOf(shot, this.settings);
    return {
      motion: moveOf(title, this.study, changed, this.points, this.motion.grain),
      study: changed,
    };
  }

  private drawn(name: string): Motion {
    const { study, points } = this;
    const { grain, figures, things, ground, camera, ...head } = drawnOf(study, name, points);
    const paths = points.series.map(({ on }) => on(study));
    this.told = paths.map((path) => path.slice());
    const poses = packed(paths, head.count, grain);
    return { ...head, points: paths.length, grain, poses, figures, things, ground, camera, notes: [] };
  }
}
