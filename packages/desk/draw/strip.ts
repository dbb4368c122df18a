import type { Tier } from "@keyside/core";
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
  const row = strip.rows[index];
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
