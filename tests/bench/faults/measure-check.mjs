/** Puts an injector's faults into the bases and counts what its check says. */
import { checkNamed, notesOf, provenFix, studyOf } from "@keyside/core";
import { fixNamed } from "@keyside/core/internal";
import { settings, shotWith } from "./bases/index.mjs";
import { randomFrom, seedOf } from "./random.mjs";
import { isTaken, scored } from "./score.mjs";

/** Seed of the bench; the unit tests use small whole numbers. */
const seed = 0x5eed;
/** Strength (index) at which fixes are tried. */
const fixedAt = 2;
/** Tries per placement before a base is passed over. */
const tries = 250;

/**
 * @param {object} injector @param {object[]} bases
 * @param {Map<object, readonly object[]>} clean notes on each base
 * @param {number} wanted placements over all bases
 * @returns {{ check: string, strengths: object[] }} counts per strength
 */
export function measureCheck(injector, bases, clean, wanted) {
  const random = randomFrom(seed ^ seedOf(injector.check));
  const fitting = bases.filter(
    (base) => (injector.bases?.includes(base.kind) ?? true) && (injector.only?.(base) ?? true),
  );
  const places = placesFor(injector, fitting, clean, random, wanted);
  const hasFixes = fixNamed(injector.check) !== undefined;
  const strengths = injector.strengths.map((strength, index) => {
    const outcomes = places.map(({ base, place }) => {
      const { curves, shot, truth } = injector.inject(base, place, strength);
      const faulty = shotWith(shot ?? base.shot, curves ?? []);
      const notes = notesOf(studyOf(faulty, settings));
      const score = scored(checkNamed(injector.check), clean.get(base), notes, truth);
      const isTried = score.found && hasFixes && index === fixedAt;
      return {
        base: `${base.name} (${base.kind})`,
        truth,
        shot: faulty,
        ...score,
        fixed: isTried ? provenFix(faulty, settings, score.note) !== null : undefined,
      };
    });
    return { strength, outcomes };
  });
  return { check: injector.check, placements: places.length, strengths };
}

/** Takes the bases in turn, so that each gives about as many placements. */
function placesFor(injector, bases, clean, random, wanted) {
  const places = [];
  let dry = 0;
  for (let turn = 0; places.length < wanted && bases.length > 0 && dry < bases.length; turn++) {
    const base = bases[turn % bases.length];
    const place = placeIn(injector, base, clean.get(base), random);
    if (place === null) dry++;
    else {
      dry = 0;
      places.push({ base, place });
    }
  }
  return places;
}

function placeIn(injector, base, notes, random) {
  for (let i = 0; i < tries; i++) {
    const place = injector.place(base, random);
    if (place === null) continue;
    const strongest = injector.inject(base, place, injector.strengths[injector.strengths.length - 1]);
    if (strongest !== null && !isTaken(injector.check, notes, strongest.truth)) return place;
  }
  return null;
}
