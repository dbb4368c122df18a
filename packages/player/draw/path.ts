import type { Poses } from "../unpack.ts";
import { noPoint, type View } from "../view.ts";

/** Half the length of a tick, pixels. */
const tick = 4;

/** What is drawn of a path. */
export interface PathStyle {
  readonly colour: string;
  readonly width: number;
  readonly dash: readonly number[];
  /** Whether each frame has a tick across the path. */
  readonly ticks: boolean;
}

const seen = noPoint();

/**
 * Draws the way of a point over some frames: wide apart ticks are fast, close ones slow. The view stays as it is aimed,
 * so that the way is that in the world.
 */
export function drawPath(
  pen: CanvasRenderingContext2D,
  { at, count }: Poses,
  point: number,
  [from, to]: readonly [number, number],
  view: View,
  { colour, width, dash, ticks }: PathStyle,
): void {
  const places: number[] = [];
  for (let i = from; i <= to; i++) {
    const place = 3 * point * count + i;
    if (view.see(at[place], at[place + count], at[place + 2 * count], seen)) places.push(seen.x, seen.y);
  }
  if (places.length < 4) return;
  pen.strokeStyle = colour;
  pen.lineWidth = width;
  pen.lineJoin = "round";
  pen.setLineDash([...dash]);
  pen.beginPath();
  for (let n = 0; n < places.length; n += 2) pen.lineTo(places[n], places[n + 1]);
  pen.stroke();
  pen.setLineDash([]);
  if (!ticks) return;
  pen.lineWidth = 1.3;
  pen.beginPath();
  for (let n = 0; n < places.length; n += 2) {
    const [before, after] = [Math.max(0, n - 2), Math.min(places.length - 2, n + 2)];
    const [dx, dy] = [places[after] - places[before], places[after + 1] - places[before + 1]];
    const length = Math.hypot(dx, dy) || 1;
    const [nx, ny] = [(-dy / length) * tick, (dx / length) * tick];
    pen.moveTo(places[n] - nx, places[n + 1] - ny);
    pen.lineTo(places[n] + nx, places[n + 1] + ny);
  }
  pen.stroke();
}
