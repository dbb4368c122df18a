import type { Tier } from "@keyside/core";
import type { FramesView } from "../curves/frames-view.ts";
import type { NumberedNote } from "../state/notes.ts";
import type { LetteredRemark } from "../state/review.ts";
import { FrameMarks } from "./frame-marks.ts";
import type { Palette } from "./palette.ts";

/** Pixels of the frame numbers, and of a row of notes. */
export const ruler = 20;
export const rowHeight = 20;
/** Pixels that a note takes at least. */
export const leastWidth = 20;

const marks = new FrameMarks();
const plain: number[] = [];
const dashed = [4, 2];

/** What lies on the strip. */
export interface Strip {
  readonly notes: readonly NumberedNote[];
  /** Open remarks that speak of frames; they lie above the notes. */
  readonly remarks: readonly LetteredRemark[];
  /** The row of each remark, then of each note; -1 for none. */
  readonly rows: Int16Array;
  /** Numbers of the notes as they stand on them. */
  readonly texts: readonly string[];
  readonly chosen: string | null;
  readonly pointed: string | null;
  readonly chosenRemark: string | null;
  /** First and last frame that is judged. */
  readonly range: readonly [number, number];
}

/** Left and right edge of a note or a remark on the strip, in pixels. */
export function spanOf(
  view: FramesView,
  { frames }: { readonly frames: readonly [number, number] | null },
  into: { left: number; right: number },
): void {
  if (frames === null) return;
  const left = view.xOf(frames[0]) - 2;
  const right = view.xOf(frames[1]) + 2;
  const grown = Math.max(0, leastWidth - (right - left)) / 2;
  into.left = left - grown;
  into.right = right + grown;
}

const span = { left: 0, right: 0 };
const box = { left: 0, right: 0, top: 0 };
const noteHeight = rowHeight - 4;
const tiers = ["polish", "minor", "major", "broken"] as const satisfies readonly Tier[];

/** Draws frame numbers, and each note at its frames. */
export function drawStrip(
  pen: CanvasRenderingContext2D,
  strip: Strip,
  view: FramesView,
  colours: Palette,
  width: number,
  height: number,
): void {
  marks.update(view);
  pen.font = "12px system-ui, sans-serif";
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.fillStyle = colours.soft;
  pen.strokeStyle = colours.faint;
  pen.lineWidth = 1;
  pen.beginPath();
  for (let i = 0; i < marks.frames.length; i++) {
    const x = Math.round(view.xOf(marks.frames[i])) + 0.5;
    pen.moveTo(x, ruler - 3);
    pen.lineTo(x, height);
    pen.fillText(marks.texts[i], x, ruler / 2 - 1);
  }
  pen.stroke();
  drawEnds(pen, strip, view, colours, width, height);
  for (let i = 0; i < strip.remarks.length; i++) {
    const row = strip.rows[i];
    if (row >= 0) drawRemark(pen, strip, i, view, colours, width, ruler + row * rowHeight + 1);
  }
  for (let i = 0; i < tiers.length; i++) drawTier(pen, strip, tiers[i], view, colours, width);
  pen.font = "700 12px system-ui, sans-serif";
  for (let i = 0; i < strip.notes.length; i++) {
    if (!place(strip, i, view, width)) continue;
    const { tier, fingerprint } = strip.notes[i];
    pen.fillStyle = isHeavy(tier) ? colours.on : colours[tier];
    pen.fillText(
      strip.texts[i],
      (Math.max(0, box.left) + Math.min(width, box.right)) / 2,
      box.top + noteHeight / 2 + 1,
    );
    if (fingerprint !== strip.chosen && fingerprint !== strip.pointed) continue;
    pen.strokeStyle = colours.ink;
    pen.lineWidth = fingerprint === strip.chosen ? 2.5 : 1.5;
    pen.beginPath();
    pen.roundRect(box.left - 2.5, box.top - 2.5, box.right - box.left + 5, noteHeight + 5, 5);
    pen.stroke();
  }
}

/** A remark: a line over its frames that hangs from its letter, so that no remark looks like a note. */
function drawRemark(
  pen: CanvasRenderingContext2D,
  strip: Strip,
  index: number,
  view: FramesView,
  colours: Palette,
  width: number,
  top: number,
): void {
  const remark = strip.remarks[index];
  if (remark.frames === null) return;
  spanOf(view, remark, span);
  const [left, right] = [Math.max(-4, span.left), Math.min(width + 4, span.right)];
  if (right <= 0 || left >= width) return;
  const middle = top + rowHeight / 2 - 2;
  pen.strokeStyle = colours.pen;
  pen.lineWidth = 3;
  pen.beginPath();
  pen.moveTo(left, middle);
  pen.lineTo(right, middle);
  pen.moveTo(left, middle - 5);
  pen.lineTo(left, middle + 5);
  pen.moveTo(right, middle - 5);
  pen.lineTo(right, middle + 5);
  pen.stroke();
  const x = (Math.max(0, left) + Math.min(width, right)) / 2;
  pen.font = "700 12px system-ui, sans-serif";
  const half = Math.max(8, pen.measureText(remark.letter).width / 2 + 4);
  const isChosen = remark.id === strip.chosenRemark;
  pen.beginPath();
  pen.roundRect(x - half, middle - 8, 2 * half, 16, 8);
  pen.fillStyle = isChosen ? colours.pen : colours.card;
  pen.fill();
  pen.lineWidth = 1.5;
  pen.stroke();
  pen.fillStyle = isChosen ? colours.on : colours.pen;
  pen.fillText(remark.letter, x, middle + 1);
}

/** What is not judged, on either side, is crossed out thinly. */
function drawEnds(
  pen: CanvasRenderingContext2D,
  { range }: Strip,
  view: FramesView,
  colours: Palette,
  width: number,
  height: number,
): void {
  pen.strokeStyle = colours.soft;
  pen.beginPath();
  const [left, right] = [view.xOf(range[0]), view.xOf(range[1])];
  if (left >= 0) {
    pen.moveTo(left, ruler - 4);
    pen.lineTo(left, height);
  }
  if (right <= width) {
    pen.moveTo(right, ruler - 4);
    pen.lineTo(right, height);
  }
  pen.stroke();
}

/** Where a note lies, in pixels; false where it is not seen. */
function place(strip: Strip, index: number, view: FramesView, width: number): boolean {
  const row = strip.rows[strip.remarks.length + index];
  if (row < 0) return false;
  spanOf(view, strip.notes[index], span);
  box.left = Math.max(-4, span.left);
  box.right = Math.min(width + 4, span.right);
  box.top = ruler + row * rowHeight + 1;
  return box.right > 0 && box.left < width;
}

function isHeavy(tier: Tier): boolean {
  return tier === "major" || tier === "broken";
}

/** All notes of a tier as one path: the pen takes as long for each change of colour as for many boxes. */
function drawTier(
  pen: CanvasRenderingContext2D,
  strip: Strip,
  tier: Tier,
  view: FramesView,
  colours: Palette,
  width: number,
): void {
  pen.beginPath();
  let isThere = false;
  for (let i = 0; i < strip.notes.length; i++) {
    if (strip.notes[i].tier !== tier || !place(strip, i, view, width)) continue;
    pen.roundRect(box.left, box.top, box.right - box.left, noteHeight, 4);
    isThere = true;
  }
  if (!isThere) return;
  const colour = colours[tier];
  pen.fillStyle = isHeavy(tier) ? colour : colours.card;
  pen.fill();
  if (tier === "minor") {
    // Pale: a quarter of what a major note is.
    pen.globalAlpha = 0.25;
    pen.fillStyle = colour;
    pen.fill();
    pen.globalAlpha = 1;
  }
  pen.strokeStyle = colour;
  pen.lineWidth = 1.5;
  if (tier === "polish") pen.setLineDash(dashed);
  pen.stroke();
  pen.setLineDash(plain);
  if (tier !== "broken") return;
  // What is broken has a second frame inside.
  pen.strokeStyle = colours.on;
  pen.beginPath();
  for (let i = 0; i < strip.notes.length; i++) {
    if (strip.notes[i].tier !== tier || !place(strip, i, view, width)) continue;
    pen.roundRect(box.left + 2.5, box.top + 2.5, Math.max(1, box.right - box.left - 5), noteHeight - 5, 2);
  }
  pen.stroke();
}
