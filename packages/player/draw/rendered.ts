import type { Rendered } from "../rendered.ts";
import type { Palette } from "./colours.ts";
import type { Place } from "./scene.ts";

/** Draws a rendered frame as large as fits, or says that there is none. */
export function drawRendered(
  pen: CanvasRenderingContext2D,
  rendered: Rendered,
  { left, top, width, height }: Place,
  palette: Palette,
): void {
  if (typeof rendered === "string") {
    if (rendered === "coming") return;
    pen.fillStyle = palette["--soft"];
    pen.font = "14px system-ui, sans-serif";
    pen.textAlign = "center";
    pen.fillText("no rendered frame", left + width / 2, top + height / 2, width);
    return;
  }
  const scale = Math.min(width / rendered.naturalWidth, height / rendered.naturalHeight);
  const [wide, high] = [scale * rendered.naturalWidth, scale * rendered.naturalHeight];
  pen.drawImage(rendered, left + (width - wide) / 2, top + (height - high) / 2, wide, high);
}
