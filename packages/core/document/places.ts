import type { HeaderPlaces } from "./model.ts";
import type { Segment } from "./scan/values.ts";

type Range = readonly [number, number];

/**
 * Text ranges by path, kept per top-level member with offsets from its start, so that an edit elsewhere moves them
 * all by changing one number per member.
 */
export class SegmentPlaces implements HeaderPlaces {
  private readonly segments: ReadonlyMap<string, Segment>;
  /** Where problems of the document as a whole are shown: its opening brace. */
  private readonly root: Range;

  constructor(segments: ReadonlyMap<string, Segment>, root: Range) {
    this.segments = segments;
    this.root = root;
  }

  get size(): number {
    let size = 0;
    for (const segment of this.segments.values()) size += segment.places.size + 1;
    return size;
  }

  get(path: string): Range | undefined {
    const slash = path.indexOf("/");
    const segment = this.segments.get(slash < 0 ? path : path.slice(0, slash));
    if (segment === undefined) return undefined;
    if (slash < 0) return [segment.start, segment.end];
    const place = segment.places.get(path);
    return place && [segment.start + place[0], segment.start + place[1]];
  }

  has(path: string): boolean {
    return this.get(path) !== undefined;
  }

  *entries(): MapIterator<[string, Range]> {
    for (const [name, segment] of this.segments) {
      yield [name, [segment.start, segment.end]];
      for (const [path, [start, end]] of segment.places) {
        yield [path, [segment.start + start, segment.start + end]];
      }
    }
  }

  *keys(): MapIterator<string> {
    for (const [path] of this.entries()) yield path;
  }

  *values(): MapIterator<Range> {
    for (const [, range] of this.entries()) yield range;
  }

  forEach(each: (range: Range, path: string, map: ReadonlyMap<string, Range>) => void): void {
    for (const [path, range] of this.entries()) each(range, path, this);
  }

  [Symbol.iterator](): MapIterator<[string, Range]> {
    return this.entries();
  }

  /** The range of a path, or of the nearest thing around it that has one. */
  around(path: string): Range {
    for (let at = path; ; at = at.slice(0, at.lastIndexOf("/"))) {
      const range = this.get(at);
      if (range !== undefined) return range;
      if (!at.includes("/")) return this.root;
    }
  }

  /** The same places after `delta` characters came in (or went, if negative) inside a member, behind `from`. */
  shifted(from: number, delta: number): SegmentPlaces {
    const move = (offset: number) => (offset > from ? offset + delta : offset);
    const moved = new Map<string, Segment>();
    for (const [name, { start, end, places }] of this.segments) {
      moved.set(name, { start: move(start), end: move(end), places });
    }
    return new SegmentPlaces(moved, this.root);
  }

  /**
   * The same places under the paths that what is left of a member has.
   * @param value what is left of the member
   * @param pathInText the path in the text for one in what is left
   */
  renumbered(name: string, value: unknown, pathInText: (path: string) => string): SegmentPlaces {
    const segment = this.segments.get(name);
    if (segment === undefined) return this;
    const places = new Map<string, Range>();
    const walk = (inner: unknown, path: string) => {
      const place = segment.places.get(pathInText(path));
      if (place !== undefined) places.set(path, place);
      if (typeof inner !== "object" || inner === null) return;
      for (const [step, member] of Object.entries(inner)) walk(member, `${path}/${step}`);
    };
    walk(value, name);
    return new SegmentPlaces(new Map(this.segments).set(name, { ...segment, places }), this.root);
  }
}

/** The places of a document that was built in code: none. */
export const noPlaces: HeaderPlaces = new SegmentPlaces(new Map(), [0, 0]);
