/** A canvas that is drawn anew before the next picture where something has changed, and not else. */
export class Surface {
  readonly canvas: HTMLCanvasElement;
  private readonly pen: CanvasRenderingContext2D | null;
  private readonly paint: (pen: CanvasRenderingContext2D, width: number, height: number) => void;
  private isDue = false;
  width = 0;
  height = 0;

  constructor(canvas: HTMLCanvasElement, paint: Surface["paint"]) {
    [this.canvas, this.paint] = [canvas, paint];
    this.pen = canvas.getContext("2d");
  }

  /** Takes another size in the page's pixels. */
  resize(width: number, height: number): void {
    const dots = devicePixelRatio || 1;
    const [across, down] = [Math.max(1, Math.round(width * dots)), Math.max(1, Math.round(height * dots))];
    [this.width, this.height] = [width, height];
    if (this.canvas.width !== across) this.canvas.width = across;
    if (this.canvas.height !== down) this.canvas.height = down;
    this.canvas.style.width = `${width}px`;
    this.canvas.style.height = `${height}px`;
    this.redraw();
  }

  /** Something has changed. */
  redraw(): void {
    if (this.isDue) return;
    this.isDue = true;
    requestAnimationFrame(this.draw);
  }

  /** Draws at once. */
  readonly draw = (): void => {
    this.isDue = false;
    const { pen, width, height } = this;
    if (pen === null || width === 0) return;
    const dots = devicePixelRatio || 1;
    pen.setTransform(dots, 0, 0, dots, 0, 0);
    pen.clearRect(0, 0, width, height);
    this.paint(pen, width, height);
  };
}
