import { nearestName } from "../base/nearest.ts";
import type { Study } from "../base/study.ts";
import { headerOf, rangeOf } from "../document/inputs.ts";
import { figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import type { ReviewProblem } from "./problem.ts";
import type { Remark, ReviewFile } from "./schema.ts";

/**
 * The node of which a remark speaks, as it is called in a shot: by its name, else by the part of the body that it was.
 * @param remark a remark, of this version or another
 * @returns id of the node; null where the remark names none, or the shot has neither
 */
export function nodeOfRemark(study: Study, { node, part, figure }: Remark): string | null {
  const { indexOf, ids } = rigOf(study);
  if (node === undefined) return null;
  if (indexOf.has(node)) return node;
  if (part === undefined) return null;
  const figures = figuresOf(study);
  const own = figures.find(({ id }) => id === figure) ?? (figures.length === 1 ? figures[0] : undefined);
  const [index] = own?.parts.get(part) ?? [];
  return index === undefined ? null : ids[index];
}

/**
 * The part of the body that a node is, as a remark about it names it, so that it is found again when it is renamed.
 * @param node id of a node
 * @returns figure and part; null where the node is none of the body's, or not in the shot
 */
export function partOfNode(study: Study, node: string): Required<Pick<Remark, "figure" | "part">> | null {
  const index = rigOf(study).indexOf.get(node);
  if (index === undefined) return null;
  for (const { id, partOf } of figuresOf(study)) {
    const part = partOf.get(index);
    if (part !== undefined) return { figure: id, part };
  }
  return null;
}

/**
 * Whether a review was made of another shot than this: their names differ, beyond a number of the version at their end.
 * @param review a review file
 * @param name what the shot is called
 * @returns false where the review names no shot
 */
export function isOfAnotherShot({ shot }: ReviewFile, name: string): boolean {
  return shot !== null && stem(shot) !== stem(name);
}

/** A shot's name without the number of its version. */
function stem(name: string): string {
  return name.toLowerCase().replace(/[._ -]*(?:v|version|rev|r)[._ -]?\d+$/, "");
}

/**
 * What of a review does not fit the shot that it stands beside: frames that are not there, parts that are not there or
 * are called otherwise, another shot. All of it is used as far as it goes.
 * @param review a review file
 * @param name what the shot is called
 * @returns a sentence for each
 */
export function reviewMisfits(study: Study, review: ReviewFile, name: string): readonly ReviewProblem[] {
  const problems: ReviewProblem[] = [];
  const tell = (id: string | null, message: string) => problems.push({ line: null, message, id });
  if (isOfAnotherShot(review, name)) {
    const message = `The review is of the shot "${review.shot}", and this is "${name}". Its remarks are shown; the notes that it drops are not dropped here.`;
    tell(null, message);
  }
  const { indexOf, ids } = rigOf(study);
  const range = rangeOf(study);
  const cameras = new Set((headerOf(study).cameras ?? []).map(({ id }) => id));
  for (const remark of review.remarks) {
    const named = `The remark ${remark.id}`;
    tellFrames(tell, remark.id, named, remark.frames, range);
    if (remark.node !== undefined && !indexOf.has(remark.node)) {
      const now = nodeOfRemark(study, remark);
      const ending =
        now === null
          ? `it is told of the whole shot.${meant(remark.node, ids)}`
          : `it is told of "${now}", which is that part now.`;
      tell(remark.id, `${named} speaks of "${remark.node}", which is not in the shot; ${ending}`);
    }
    for (const { camera, plane, target, frame } of remark.strokes ?? []) {
      if (camera !== undefined && !cameras.has(camera)) {
        tell(
          remark.id,
          `${named} has a stroke through the camera "${camera}", which is not in the shot; it keeps its plane.`,
        );
      }
      if (plane?.normal.every((number) => number === 0)) {
        tell(
          remark.id,
          `${named} has a stroke at frame ${frame} whose plane has no normal; it is drawn as its points.`,
        );
      }
      if (target !== undefined && !indexOf.has(target.node)) {
        tell(
          remark.id,
          `${named} has a target path for "${target.node}", which is not in the shot; it is not measured.${meant(target.node, ids)}`,
        );
      }
    }
  }
  return problems;
}

function tellFrames(
  tell: (id: string, message: string) => void,
  id: string,
  named: string,
  frames: Remark["frames"],
  [first, last]: readonly [number, number],
): void {
  if (frames === undefined) return;
  const [from, to] = [Math.min(...frames), Math.max(...frames)];
  if (from >= first && to <= last) return;
  const span = from === to ? `frame ${from}` : `frames ${from} to ${to}`;
  tell(
    id,
    `${named} speaks of ${span}; the shot has frames ${first} to ${last}. It is kept, and shown as it is.`,
  );
}

function meant(name: string, names: Iterable<string>): string {
  const near = nearestName(name, names);
  return near === null ? "" : ` Did you mean "${near}"?`;
}
