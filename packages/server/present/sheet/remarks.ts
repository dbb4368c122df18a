import {
  figuresOf,
  gridOf,
  nodeOfRemark,
  type Remark,
  type ReportedRemark,
  rigOf,
  sampleAt,
  stateOfRemark,
} from "@keyside/core";
import type { MotionStroke } from "@keyside/player/motion";
import type { JudgedVersion } from "../../judge/shots/judged-version.ts";
import { remarkDetails, remarkSource } from "../text/review.ts";
import { escaped } from "../text/svg.ts";
import { bodyOf } from "./draw/body.ts";
import { strokePicture } from "./draw/stroke-picture.ts";
import { sentence, spanText } from "./sheet.ts";

const strokesSize = { width: 420, height: 300 };

/** A, B, … Z, AA, AB …: remarks have letters, so that the numbers of notes stay what they are. */
export function letterAt(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : letterAt(Math.floor(index / 26) - 1) + last;
}

/** What a person says, as an item of the list, with what was drawn. */
export function remarkItem(version: JudgedVersion, remark: ReportedRemark, letter: string): string {
  const { weight, text, part, frames, state } = remark;
  const where = [part, spanText(frames)].filter(Boolean).join(", ");
  const what = weight === "keep" ? "Keep this" : `Remark: ${weight}`;
  const became = state === "open" ? "" : state === "done" ? "done" : "still open";
  const details = remarkDetails(remark).map((line) => `<dd>${escaped(sentence(line))}</dd>`);
  const drawn = pictureOf(version, remark.id, letter);
  return `<li class="remark ${weight}${state === "done" ? " is-done" : ""}" id="remark-${letter}" tabindex="0" aria-label="${escaped(`Remark ${letter}: ${where}`)}">
<div class="head"><span class="number-chip" aria-hidden="true">${letter}</span>
<h3>${escaped(what)} <span class="where">${escaped(where)}</span></h3>
<span class="tier-name">${escaped(remarkSource({ ...remark, state: "open" }))}</span>${became === "" ? "" : `<span class="status">${became}</span>`}</div>
<p class="message">${escaped(text)}</p>
${details.length === 0 ? "" : `<dl class="said"><dt>Lines</dt>${details.join("")}</dl>`}
${drawn === "" ? "" : `<div class="pictures"><figure class="strokes">${drawn}<figcaption>As it was drawn; dashed: the path that the part is to take.</figcaption></figure></div>`}
</li>`;
}

function remarkOf({ loaded }: JudgedVersion, id: string): Remark | undefined {
  return loaded.review?.review.remarks.find((remark) => remark.id === id);
}

function pictureOf(version: JudgedVersion, id: string, letter: string): string {
  const remark = remarkOf(version, id);
  if (remark === undefined) return "";
  const { study } = version;
  const node = nodeOfRemark(study, remark);
  const index = node === null ? undefined : rigOf(study).indexOf.get(node);
  return strokePicture({
    study,
    bodies: figuresOf(study).map((_, figure) => bodyOf(study, figure)),
    strokes: remark.strokes ?? [],
    marked: new Set(index === undefined ? [] : [index]),
    name: `What was drawn for remark ${letter}`,
    size: strokesSize,
  });
}

/**
 * Lines of remarks that are not done, as the player shows them.
 * @param letters of remarks, by their ids
 */
export function strokesOf(
  version: JudgedVersion,
  letters: ReadonlyMap<string, string>,
): readonly MotionStroke[] {
  const review = version.loaded.review?.review;
  if (review == null) return [];
  const grid = gridOf(version.study);
  return review.remarks.flatMap((remark) => {
    if (stateOfRemark(remark, review.marks).state === "done") return [];
    return (remark.strokes ?? []).map(({ points, frames, frame, target }): MotionStroke => {
      const span = target?.frames ?? frames ?? remark.frames ?? [frame, frame];
      const [from, to] = [Math.min(...span), Math.max(...span)].map((one) => sampleAt(grid, one));
      return {
        label: letters.get(remark.id) ?? "",
        ...{ from, to, line: points.flat(), isTarget: target !== undefined },
      };
    });
  });
}
