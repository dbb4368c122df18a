/** No solid: what an empty place of a raster holds. */
export const nothing = -1;

/** What part of the picture a raster shows. */
export interface Window {
  /** Its upper left corner: to the right and upwards of the picture's middle, picture heights. */
  left: number;
  top: number;
  /** Places per picture height. */
  scale: number;
}

/**
 * A small picture with depth, for one frame after the other: which solid is nearest at each place, and how far it is;
 * or, as bits, which of some groups lie over a place at all. Its arrays are made once.
 *
 * A solid is the hull of discs, and each row of a hull is one run of places: rows are found first, then filled. Testing
 * every place of a solid's box against its axis costs three times as much on slanted limbs.
 */
export class Raster {
  readonly width: number;
  readonly height: number;
  /** Per place, row by row from the top: the nearest solid, or {@link nothing}. */
  readonly owner: Int16Array;
  /** Per place: depth of the nearest solid, metres. */
  readonly depth: Float32Array;
  /** Per place: one bit for each group that lies over it. */
  readonly groups: Uint8Array;
  private readonly from: Float64Array;
  private readonly to: Float64Array;
  private first = 0;
  private last = -1;

  constructor(width: number, height: number) {
    this.width = width;
    this.height = height;
    this.owner = new Int16Array(width * height);
    this.depth = new Float32Array(width * height);
    this.groups = new Uint8Array(width * height);
    this.from = new Float64Array(height);
    this.to = new Float64Array(height);
    this.clear();
  }

  clear(): void {
    this.owner.fill(nothing);
    this.depth.fill(Number.POSITIVE_INFINITY);
    this.groups.fill(0);
  }

  /**
   * Draws the hull of discs, the nearest solid in front.
   * @param discs per disc x, y (places from the upper left), radius (places) and depth (metres)
   */
  solid(discs: Float64Array, count: number, owner: number): void {
    this.rowsOf(discs, count);
    const { width, from, to, depth } = this;
    // Depth runs evenly from the first disc to the last; a box is as deep as its middle.
    const last = 4 * (count - 1);
    const ax = discs[0];
    const ay = discs[1];
    const bx = discs[last];
    const by = discs[last + 1];
    const isBone = count === 2;
    const along = (bx - ax) ** 2 + (by - ay) ** 2;
    let near = discs[3];
    if (!isBone) for (let k = 1; k < count; k++) near += discs[4 * k + 3];
    const [start, gain] = isBone ? [discs[3], discs[7] - discs[3]] : [near / count, 0];
    const step = isBone && along > 0 ? (bx - ax) / along : 0;
    for (let y = this.first; y <= this.last; y++) {
      const x0 = Math.ceil(from[y] - 0.5);
      const x1 = Math.floor(to[y] - 0.5);
      let t = isBone && along > 0 ? ((x0 + 0.5 - ax) * (bx - ax) + (y + 0.5 - ay) * (by - ay)) / along : 0;
      for (let place = y * width + x0, end = y * width + x1; place <= end; place++, t += step) {
        const here = start + gain * Math.max(0, Math.min(1, t));
        if (here >= depth[place]) continue;
        depth[place] = here;
        this.owner[place] = owner;
      }
    }
  }

  /** Lays a group's bits over all places of the hull of discs. */
  lay(discs: Float64Array, count: number, bits: number): void {
    this.rowsOf(discs, count);
    const { width, from, to, groups } = this;
    for (let y = this.first; y <= this.last; y++) {
      const end = y * width + Math.floor(to[y] - 0.5);
      for (let place = y * width + Math.ceil(from[y] - 0.5); place <= end; place++) groups[place] |= bits;
    }
  }

  /** Where each row of the hull begins and ends, within the raster; empty rows end before they begin. */
  private rowsOf(discs: Float64Array, count: number): void {
    let top = Number.POSITIVE_INFINITY;
    let bottom = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < 4 * count; k += 4) {
      if (!Number.isFinite(discs[k] + discs[k + 1] + discs[k + 2])) {
        this.last = -1;
        this.first = 0;
        return;
      }
      top = Math.min(top, discs[k + 1] - discs[k + 2]);
      bottom = Math.max(bottom, discs[k + 1] + discs[k + 2]);
    }
    this.first = Math.max(0, Math.ceil(top - 0.5));
    this.last = Math.min(this.height - 1, Math.floor(bottom - 0.5));
    for (let y = this.first; y <= this.last; y++) {
      this.from[y] = Number.POSITIVE_INFINITY;
      this.to[y] = Number.NEGATIVE_INFINITY;
    }
    for (let a = 0; a < count; a++) {
      this.addDisc(discs[4 * a], discs[4 * a + 1], discs[4 * a + 2]);
      for (let b = a + 1; b < count; b++) this.addBand(discs, 4 * a, 4 * b);
    }
    for (let y = this.first; y <= this.last; y++) {
      this.from[y] = Math.max(0, this.from[y]);
      this.to[y] = Math.min(this.width, this.to[y]);
    }
  }

  private addDisc(x: number, y: number, radius: number): void {
    const first = Math.max(this.first, Math.ceil(y - radius - 0.5));
    const last = Math.min(this.last, Math.floor(y + radius - 0.5));
    for (let row = first; row <= last; row++) {
      const off = row + 0.5 - y;
      const half = Math.sqrt(Math.max(0, radius * radius - off * off));
      if (x - half < this.from[row]) this.from[row] = x - half;
      if (x + half > this.to[row]) this.to[row] = x + half;
    }
  }

  /** The straight sides between two discs. */
  private addBand(discs: Float64Array, a: number, b: number): void {
    const ax = discs[a];
    const ay = discs[a + 1];
    const ar = discs[a + 2];
    const bx = discs[b];
    const by = discs[b + 1];
    const br = discs[b + 2];
    const dx = bx - ax;
    const dy = by - ay;
    const length = Math.sqrt(dx * dx + dy * dy);
    // One disc lies within the other.
    if (length <= Math.abs(ar - br)) return;
    const sine = (ar - br) / length;
    const cosine = Math.sqrt(1 - sine * sine);
    for (let side = -1; side <= 1; side += 2) {
      // Where a common tangent touches both.
      const nx = (dx * sine - side * dy * cosine) / length;
      const ny = (dy * sine + side * dx * cosine) / length;
      this.addSide(ax + ar * nx, ay + ar * ny, bx + br * nx, by + br * ny);
    }
  }

  private addSide(ax: number, ay: number, bx: number, by: number): void {
    const first = Math.max(this.first, Math.ceil(Math.min(ay, by) - 0.5));
    const last = Math.min(this.last, Math.floor(Math.max(ay, by) - 0.5));
    const slope = ay === by ? 0 : (bx - ax) / (by - ay);
    for (let row = first; row <= last; row++) {
      const x = ax + (row + 0.5 - ay) * slope;
      if (x < this.from[row]) this.from[row] = x;
      if (x > this.to[row]) this.to[row] = x;
    }
  }
}
