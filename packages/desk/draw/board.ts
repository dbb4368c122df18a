import type { FramesView } from "../curves/frames-view.ts";
import { type HandlePlace, placeOfHandle } from "../curves/handles.ts";
import { clampedY } from "../curves/hit.ts";
import { head, isSeen, type Lane, type Lanes, laneY } from "../curves/lanes.ts";
import { firstFrom, keyAt, type Picked } from "../curves/picked.ts";
import type { NumberedNote } from "../state/notes.ts";
import { FrameMarks } from "./frame-marks.ts";
import type { Palette } from "./palette.ts";

/** What is drawn besides the curves. */
export interface Shown {
  readonly picked: Picked;
  /** The note whose frames are hatched and whose keys are ringed. */
  note: NumberedNote | null;
  /** The lane whose key leads, and the part of it that arrows move. */
  part: "key" | "in" | "out";
  /** A box that is drawn to choose keys, in pixels of the lanes; its width is 0 where there is none. */
  readonly box: { x: number; y: number; width: number; height: number };
}

const marks = new FrameMarks();
const place: HandlePlace = { frame: 0, value: 0, isOwn: false };
/** Half the height of a key. */
const size = 5;
/** Pixels between keys, on average, below which they are not drawn. */
const closest = 4;
const plain: number[] = [];
const dashed = [4, 3];
const dotted = [1, 3];

/**
 * Draws the lanes that are seen. Nothing is made while it draws but what the pen itself makes.
 * @param from the first pixel of the lanes that is seen, and `to` the last one
 */
export function drawBoard(
  pen: CanvasRenderingContext2D,
  lanes: Lanes,
  view: FramesView,
  shown: Shown,
  colours: Palette,
  from: number,
  to: number,
): void {
  marks.update(view);
  pen.save();
  pen.translate(0, -from);
  for (let i = 0; i < lanes.all.length; i++) {
    const lane = lanes.all[i];
    if (!isSeen(lane, from, to)) continue;
    drawGround(pen, lane, view, colours, i % 2 === 1);
    if (shown.note !== null) drawSpan(pen, lane, view, shown.note, colours);
    pen.save();
    pen.beginPath();
    pen.rect(0, lane.top - head / 2, view.width, lane.height + head / 2);
    pen.clip();
    drawCurve(pen, lane, view, colours);
    pen.restore();
    drawKeys(pen, lane, view, shown, colours);
    drawHead(pen, lane, shown, colours);
  }
  const { box } = shown;
  if (box.width !== 0 || box.height !== 0) {
    pen.setLineDash(dashed);
    pen.strokeStyle = colours.ink;
    pen.lineWidth = 1;
    pen.strokeRect(box.x, box.y, box.width, box.height);
    pen.setLineDash(plain);
  }
  pen.restore();
}

function drawGround(
  pen: CanvasRenderingContext2D,
  lane: Lane,
  view: FramesView,
  colours: Palette,
  isOdd: boolean,
): void {
  pen.fillStyle = isOdd ? colours.paper : colours.card;
  pen.fillRect(0, lane.top - head, view.width, lane.height + head);
  pen.lineWidth = 1;
  pen.strokeStyle = colours.faint;
  pen.beginPath();
  for (let i = 0; i < marks.frames.length; i++) {
    const x = Math.round(view.xOf(marks.frames[i])) + 0.5;
    pen.moveTo(x, lane.top);
    pen.lineTo(x, lane.top + lane.height);
  }
  const hasScale = lane.curve.width === 1;
  for (let i = 0; hasScale && i < lane.marks.length; i++) {
    const y = Math.round(laneY(lane, lane.marks[i].value)) + 0.5;
    pen.moveTo(0, y);
    pen.lineTo(view.width, y);
  }
  pen.stroke();
  pen.strokeStyle = colours.line;
  pen.beginPath();
  pen.moveTo(0, lane.top - head + 0.5);
  pen.lineTo(view.width, lane.top - head + 0.5);
  pen.stroke();
}

/** The frames of a note: hatched, with dashed edges. */
function drawSpan(
  pen: CanvasRenderingContext2D,
  lane: Lane,
  view: FramesView,
  { frames }: NumberedNote,
  colours: Palette,
): void {
  const left = Math.max(-9, view.xOf(frames[0]) - 2);
  const right = Math.min(view.width + 9, view.xOf(frames[1]) + 2);
  if (right < 0 || left > view.width) return;
  const [top, bottom] = [lane.top, lane.top + lane.height];
  pen.save();
  pen.beginPath();
  pen.rect(left, top, right - left, bottom - top);
  pen.clip();
  pen.strokeStyle = colours.soft;
  pen.globalAlpha = 0.45;
  pen.beginPath();
  for (let x = left - ((left + bottom) % 7) - (bottom - top); x < right; x += 7) {
    pen.moveTo(x, bottom);
    pen.lineTo(x + (bottom - top), top);
  }
  pen.stroke();
  pen.restore();
  pen.strokeStyle = colours.ink;
  pen.setLineDash(dashed);
  pen.beginPath();
  pen.moveTo(left, top);
  pen.lineTo(left, bottom);
  pen.moveTo(right, top);
  pen.lineTo(right, bottom);
  pen.stroke();
  pen.setLineDash(plain);
}

function drawCurve(pen: CanvasRenderingContext2D, lane: Lane, view: FramesView, colours: Palette): void {
  pen.strokeStyle = colours.path;
  pen.fillStyle = colours.path;
  pen.lineWidth = 1.8;
  pen.lineJoin = "round";
  pen.beginPath();
  if (lane.curve.width === 4) {
    pen.moveTo(0, lane.top + lane.height / 2);
    pen.lineTo(view.width, lane.top + lane.height / 2);
    pen.setLineDash(dotted);
    pen.stroke();
    pen.setLineDash(plain);
    return;
  }
  const { low, high } = lane.scale;
  if (lane.trace.stroke(pen, view, lane.top, lane.height / (high - low), high)) pen.fill();
  else pen.stroke();
}

function drawKeys(
  pen: CanvasRenderingContext2D,
  lane: Lane,
  view: FramesView,
  shown: Shown,
  colours: Palette,
): void {
  const { frames, values, width } = lane.curve;
  const first = firstFrom(frames, view.frameAt(-size));
  let last = firstFrom(frames, view.frameAt(view.width + size));
  last = Math.min(frames.length, last);
  pen.lineWidth = 1.5;
  // Keys that stand closer than they are wide cannot be told apart: the curve alone is drawn then.
  if ((last - first) * closest < view.width) {
    pen.strokeStyle = colours.ink;
    pen.fillStyle = colours.card;
    pen.beginPath();
    for (let key = first; key < last; key++) {
      diamond(pen, view.xOf(frames[key]), clampedY(lane, laneY(lane, values[key * width])), size);
    }
    pen.fill();
    pen.stroke();
  }
  const { all } = shown.picked;
  for (let i = 0; i < all.length; i++) {
    if (all[i].name !== lane.name) continue;
    const key = keyAt(lane.curve, all[i].frame);
    if (key < 0) continue;
    const isLead = i === all.length - 1;
    if (width === 1) {
      drawHandle(pen, lane, view, key, "in", isLead && shown.part === "in", colours);
      drawHandle(pen, lane, view, key, "out", isLead && shown.part === "out", colours);
    }
    const x = view.xOf(frames[key]);
    const y = clampedY(lane, laneY(lane, values[key * width]));
    pen.fillStyle = colours.ink;
    pen.strokeStyle = colours.ink;
    pen.lineWidth = 1.5;
    pen.beginPath();
    diamond(pen, x, y, size + 1.5);
    pen.fill();
    if (isLead) pen.strokeRect(x - 9, y - 9, 18, 18);
  }
  if (shown.note !== null) drawCauses(pen, lane, view, shown.note, colours);
}

/** The keys that cause a note: ringed twice, the one that causes most with its rank beside it. */
function drawCauses(
  pen: CanvasRenderingContext2D,
  lane: Lane,
  view: FramesView,
  note: NumberedNote,
  colours: Palette,
): void {
  pen.strokeStyle = colours.ink;
  pen.lineWidth = 2;
  for (let i = 0; i < note.keys.length; i++) {
    const { node, channel, frame } = note.keys[i];
    if (node !== lane.node || channel !== lane.channel) continue;
    const key = keyAt(lane.curve, frame);
    if (key < 0) continue;
    const x = view.xOf(frame);
    const y = clampedY(lane, laneY(lane, lane.curve.values[key * lane.curve.width]));
    pen.beginPath();
    pen.arc(x, y, 16, 0, 2 * Math.PI);
    if (i === 0) {
      pen.moveTo(x + 19.5, y);
      pen.arc(x, y, 19.5, 0, 2 * Math.PI);
    }
    pen.stroke();
  }
}

/** A handle: whole where the document names it, dashed where it follows from the keys. */
function drawHandle(
  pen: CanvasRenderingContext2D,
  lane: Lane,
  view: FramesView,
  key: number,
  side: "in" | "out",
  isMoved: boolean,
  colours: Palette,
): void {
  if (!placeOfHandle(lane.curve, key, side, place)) return;
  const { frames, values } = lane.curve;
  const [x, y] = [view.xOf(place.frame), clampedY(lane, laneY(lane, place.value))];
  pen.strokeStyle = colours.after;
  pen.fillStyle = place.isOwn ? colours.after : colours.card;
  pen.lineWidth = 1.5;
  pen.setLineDash(place.isOwn ? plain : dashed);
  pen.beginPath();
  pen.moveTo(view.xOf(frames[key]), clampedY(lane, laneY(lane, values[key])));
  pen.lineTo(x, y);
  pen.stroke();
  pen.setLineDash(plain);
  pen.beginPath();
  pen.arc(x, y, 4.5, 0, 2 * Math.PI);
  pen.fill();
  pen.stroke();
  if (!isMoved) return;
  pen.strokeStyle = colours.ink;
  pen.strokeRect(x - 9, y - 9, 18, 18);
}

function drawHead(pen: CanvasRenderingContext2D, lane: Lane, shown: Shown, colours: Palette): void {
  pen.font = "12px system-ui, sans-serif";
  pen.textBaseline = "middle";
  pen.textAlign = "left";
  pen.lineWidth = 3;
  pen.strokeStyle = colours.card;
  pen.fillStyle = colours.soft;
  for (let i = 0; lane.curve.width === 1 && i < lane.marks.length; i++) {
    const y = laneY(lane, lane.marks[i].value);
    if (y < lane.top + 7) continue;
    pen.strokeText(lane.marks[i].text, 4, y);
    pen.fillText(lane.marks[i].text, 4, y);
  }
  const isLead = shown.picked.lead?.name === lane.name;
  pen.font = isLead ? "700 13px system-ui, sans-serif" : "600 13px system-ui, sans-serif";
  pen.fillStyle = colours.ink;
  pen.strokeText(lane.title, 6, lane.top - head / 2 + 1);
  pen.fillText(lane.title, 6, lane.top - head / 2 + 1);
}

function diamond(pen: CanvasRenderingContext2D, x: number, y: number, half: number): void {
  pen.moveTo(x, y - half);
  pen.lineTo(x + half, y);
  pen.lineTo(x, y + half);
  pen.lineTo(x - half, y);
  pen.closePath();
}
