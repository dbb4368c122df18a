import type { FramesView } from "../curves/frames-view.ts";
import type { NumberedNote } from "../state/notes.ts";
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
  /** The row of each note; -1 for none. */
  readonly rows: Int16Array;
  /** Numbers of the notes as they stand on them. */
  readonly texts: readonly string[];
  readonly chosen: string | null;
  readonly pointed: string | null;
  /** First and last frame that is judged. */
  readonly range: readonly [number, number];
}

/** Left and right edge of a note on the strip, in pixels. */
export function spanOf(view: FramesView, note: NumberedNote, into: { left: number; right: number }): void {
  const left = view.xOf(note.frames[0]) - 2;
  const right = view.xOf(note.frames[1]) + 2;
  const grown = Math.max(0, leastWidth - (right - left)) / 2;
  into.left = left - grown;
  into.right = right + grown;
}

const span = { left: 0, right: 0 };

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
  for (let i = 0; i < strip.notes.length; i++) {
    if (strip.rows[i] >= 0)
      drawNote(pen, strip, i, view, colours, width, ruler + strip.rows[i] * rowHeight + 1);
  }
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

function drawNote(
  pen: CanvasRenderingContext2D,
  strip: Strip,
  index: number,
  view: FramesView,
  colours: Palette,
  width: number,
  top: number,
): void {
  const note = strip.notes[index];
  spanOf(view, note, span);
  const [left, right] = [Math.max(-4, span.left), Math.min(width + 4, span.right)];
  if (right <= 0 || left >= width) return;
  const colour = colours[note.tier];
  const isHeavy = note.tier === "major" || note.tier === "broken";
  const height = rowHeight - 4;
  pen.beginPath();
  pen.roundRect(left, top, right - left, height, 4);
  pen.fillStyle = isHeavy ? colour : colours.card;
  pen.fill();
  if (note.tier === "minor") {
    // Pale: half of what a major note is.
    pen.globalAlpha = 0.25;
    pen.fillStyle = colour;
    pen.fill();
    pen.globalAlpha = 1;
  }
  pen.strokeStyle = colour;
  pen.lineWidth = 1.5;
  if (note.tier === "polish") pen.setLineDash(dashed);
  pen.stroke();
  pen.setLineDash(plain);
  if (note.tier === "broken") {
    // What is broken has a second frame inside.
    pen.strokeStyle = colours.on;
    pen.beginPath();
    pen.roundRect(left + 2.5, top + 2.5, Math.max(1, right - left - 5), height - 5, 2);
    pen.stroke();
  }
  pen.font = "700 12px system-ui, sans-serif";
  pen.fillStyle = isHeavy ? colours.on : colour;
  pen.fillText(strip.texts[index], (Math.max(0, left) + Math.min(width, right)) / 2, top + height / 2 + 1);
  if (note.fingerprint !== strip.chosen && note.fingerprint !== strip.pointed) return;
  pen.strokeStyle = colours.ink;
  pen.lineWidth = note.fingerprint === strip.chosen ? 2.5 : 1.5;
  pen.beginPath();
  pen.roundRect(left - 2.5, top - 2.5, right - left + 5, height + 5, 5);
  pen.stroke();
}
