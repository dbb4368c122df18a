import type { MotionStroke } from "../motion.ts";
import { noPoint, type View } from "../view.ts";
import type { Palette } from "./colours.ts";

/** Width of a drawn line, and of the light one beneath it that keeps it apart from the figure; pixels. */
const width = 3;
const rim = 3;
/** Length of the head at the end of a target, pixels. */
const head = 11;
/** Frames that are not spoken of are those on which a stroke is pale. */
const pale = 0.3;

const seen = noPoint();

/**
 * Draws what people drew: whole on the frames that a stroke speaks of, pale within a few frames of them. A target is
 * dashed, and has a head at its end.
 * @param beside frames before and behind those of a stroke on which it is drawn pale
 */
export function drawStrokes(
  pen: CanvasRenderingContext2D,
  strokes: readonly MotionStroke[],
  sample: number,
  beside: number,
  view: View,
  palette: Palette,
): void {
  for (const stroke of strokes) {
    const { from, to, line, isTarget, label } = stroke;
    if (sample < from - beside || sample > to + beside) continue;
    pen.globalAlpha = sample < from || sample > to ? pale : 1;
    drawLine(pen, line, view, palette, isTarget);
    if (label !== "") drawLabel(pen, line, label, view, palette);
  }
  pen.globalAlpha = 1;
}

/** Draws a line of the world with a rim, so that it is seen on whatever lies beneath. */
export function drawLine(
  pen: CanvasRenderingContext2D,
  line: readonly number[],
  view: View,
  palette: Palette,
  isTarget: boolean,
): void {
  const places: number[] = [];
  for (let n = 0; n + 2 < line.length; n += 3) {
    if (view.see(line[n], line[n + 1], line[n + 2], seen)) places.push(seen.x, seen.y);
  }
  if (places.length < 4) return;
  pen.lineJoin = "round";
  pen.lineCap = "round";
  for (const isRim of [true, false]) {
    pen.strokeStyle = isRim ? palette["--paper"] : palette["--pen"];
    pen.lineWidth = isRim ? width + rim : width;
    pen.setLineDash(isTarget && !isRim ? [9, 6] : []);
    pen.beginPath();
    for (let n = 0; n < places.length; n += 2) pen.lineTo(places[n], places[n + 1]);
    pen.stroke();
    pen.setLineDash([]);
    if (isTarget) drawHead(pen, places);
  }
}

/** Two short lines back from the end of a line. */
function drawHead(pen: CanvasRenderingContext2D, places: readonly number[]): void {
  const [x, y] = places.slice(-2);
  let n = places.length - 4;
  while (n > 0 && Math.hypot(x - places[n], y - places[n + 1]) < head) n -= 2;
  const angle = Math.atan2(y - places[n + 1], x - places[n]);
  pen.beginPath();
  for (const turn of [-0.5, 0.5]) {
    pen.moveTo(x - head * Math.cos(angle + turn), y - head * Math.sin(angle + turn));
    pen.lineTo(x, y);
  }
  pen.stroke();
}

function drawLabel(
  pen: CanvasRenderingContext2D,
  line: readonly number[],
  label: string,
  view: View,
  palette: Palette,
): void {
  if (!view.see(line[0], line[1], line[2], seen)) return;
  pen.font = "700 12px system-ui, sans-serif";
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  const half = Math.max(9, pen.measureText(label).width / 2 + 5);
  pen.beginPath();
  pen.roundRect(seen.x - half, seen.y - 9, 2 * half, 18, 9);
  pen.fillStyle = palette["--paper"];
  pen.fill();
  pen.strokeStyle = palette["--pen"];
  pen.lineWidth = 1.5;
  pen.stroke();
  pen.fillStyle = palette["--pen"];
  pen.fillText(label, seen.x, seen.y + 0.5);
}
