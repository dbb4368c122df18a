import type { Curve } from "@keyside/core";
import type { ShotDocument } from "./shot-document.ts";

/** A key of a curve. */
export interface LocatedKey {
  readonly curve: Curve;
  readonly index: number;
  /** Offsets of its text. */
  readonly start: number;
  readonly end: number;
}

/** The key in whose text an offset lies. */
export function keyAt(document: ShotDocument, offset: number): LocatedKey | null {
  for (const key of keysWithin(document, offset, offset)) return key;
  return null;
}

/** All keys whose text touches a stretch of the document, curve by curve. */
export function* keysWithin(document: ShotDocument, from: number, to: number): Generator<LocatedKey> {
  for (const curve of document.read().shot?.curves ?? []) {
    const { place } = curve;
    if (place === null || place.end < from || place.start > to) continue;
    const { start, keyStart, keyEnd } = place;
    for (let index = 0; index < keyStart.length; index++) {
      if (start + keyEnd[index] < from || start + keyStart[index] > to) continue;
      yield { curve, index, start: start + keyStart[index], end: start + keyEnd[index] };
    }
  }
}
