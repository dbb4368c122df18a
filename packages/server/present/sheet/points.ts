import { type Study, worldOf } from "@keyside/core";
import { armPath } from "./draw/swing.ts";

/** What moves: a node, or a point that goes with something. */
export interface Series {
  /** Its places on a study of the shot: x, y, z of each judged frame. */
  on(study: Study): Float64Array;
}

/** The points of a motion, each once, in the order in which they were first asked for. */
export class Points {
  readonly series: Series[] = [];
  private readonly byName = new Map<string, number>();

  /** The point of a node, by its rig index. */
  of(node: number): number {
    return this.known(`${node}`, (study) => worldOf(study, node).position);
  }

  /** The point of a node that is among them; null where it is not. */
  find(node: number): number | null {
    return this.byName.get(`${node}`) ?? null;
  }

  /** A point that is fixed to a node, away from it. */
  at(node: number, arm: readonly [number, number, number]): number {
    return this.known(`${node} ${arm.join(" ")}`, (study) => armPath(study, node, arm));
  }

  /**
   * A point of another kind.
   * @param name by which it is known again
   */
  known(name: string, on: Series["on"]): number {
    let point = this.byName.get(name);
    if (point === undefined) {
      point = this.series.push({ on }) - 1;
      this.byName.set(name, point);
    }
    return point;
  }
}
