import { type Note, type NoteKey, placeAt, type ReportedNote, type ReportedPlace } from "@keyside/core";
import type { LoadedShot } from "./load.ts";

type Range = readonly [start: number, end: number];

/** Where what a note speaks of stands in the shot's text; nowhere in one whose keys have none. */
export class NotePlaces {
  private readonly loaded: LoadedShot;
  private readonly nodes = new Map<string, number>();

  constructor(loaded: LoadedShot) {
    this.loaded = loaded;
    for (const [index, { id }] of loaded.shot.header.nodes.entries()) {
      if (!this.nodes.has(id)) this.nodes.set(id, index);
    }
  }

  /** The place of a key. */
  ofKey(key: NoteKey): Pick<ReportedNote["keys"][number], "line" | "column" | "endLine" | "endColumn"> {
    return this.placeOf(this.rangeOfKey(key)) ?? { line: null, column: null };
  }

  /** The place of a note that no key has; undefined where its first key has one. */
  besideKeys(note: Note): ReportedPlace | undefined {
    if (note.path !== undefined) return this.placeOf(this.loaded.places.get(note.path));
    const [first] = note.keys;
    return first !== undefined && this.rangeOfKey(first) !== undefined
      ? undefined
      : this.placeOf(this.rangeOfNode(note.node));
  }

  /** Where a note is shown: at its first key, else at its node. */
  of(note: Note): ReportedPlace | undefined {
    const [first] = note.keys;
    return (first && this.placeOf(this.rangeOfKey(first))) ?? this.besideKeys(note);
  }

  private rangeOfKey({ node, channel, index }: NoteKey): Range | undefined {
    const { curves } = this.loaded.shot;
    const place = curves.find((curve) => curve.node === node && curve.channel === channel)?.place;
    const start = place?.keyStart[index];
    const end = place?.keyEnd[index];
    if (place == null || start === undefined || end === undefined) return undefined;
    return [place.start + start, place.start + end];
  }

  /** A node's id in the list of nodes; for what is about no node, the shot. */
  private rangeOfNode(node: string | null): Range | undefined {
    const { places } = this.loaded;
    const index = node === null ? undefined : this.nodes.get(node);
    const own =
      index === undefined ? undefined : (places.get(`nodes/${index}/id`) ?? places.get(`nodes/${index}`));
    return own ?? places.get("shot/name") ?? places.get("shot");
  }

  private placeOf(range: Range | undefined): Required<ReportedPlace> | undefined {
    if (range === undefined) return undefined;
    const { lineStarts } = this.loaded;
    const { line, column } = placeAt(lineStarts, range[0]);
    const end = placeAt(lineStarts, range[1]);
    return { line, column, endLine: end.line, endColumn: end.column };
  }
}
