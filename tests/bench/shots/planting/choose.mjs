// @ts-check
/**
 * Which faults a shot gets: of different kinds, in frames and limbs that they share on purpose.
 * @import { FaultKind, KeyedShot, Place, PlannedFault, Random, ShotPlan, Strength } from "../types.d.ts"
 */
import { overlaps, shareLimb } from "./overlap.mjs";

/** Least and greatest number of faults that a shot is meant to have. */
export const faultsPerShot = /** @type {const} */ ([6, 14]);
/** How often a place is sought on a limb that has a fault already, and in frames that have one. */
const onSameLimb = 0.35;
const inSameFrames = 0.45;
/** Places that a kind offers first and that are looked at; more would only cost time. */
const looked = 40;
/** Places that are tried per kind before the next kind's turn comes. */
export const triesPerKind = 2;

/**
 * The order in which kinds are tried in a shot: cards of one long deck, of which each shot of a set takes the next, so
 * that all kinds have their turn over a set.
 * @param {readonly FaultKind[]} kinds @param {Random} random of the set @param {number} index of the shot in its set
 * @returns {FaultKind[]} each kind once
 */
export function kindsInTurn(kinds, random, index) {
  const [low, high] = faultsPerShot;
  const dealt = Math.round((low + high) / 2);
  /** @type {FaultKind[]} */
  const order = [];
  const start = index * dealt;
  for (let round = Math.floor(start / kinds.length); order.length < 2 * kinds.length + dealt; round++) {
    const deck = random.fork(`deck ${round}`).shuffled(kinds);
    const skipped = order.length === 0 ? start - round * kinds.length : 0;
    order.push(...deck.slice(skipped));
  }
  return [...new Set(order)];
}

/**
 * Proposes one fault after another, first one of each kind. Where that gives too few, kinds come a second time, elsewhere:
 * poses in step keys have room for few kinds. Whoever asks tells what became of the last one by what is in `chosen`.
 * @param {ShotPlan} plan
 * @param {KeyedShot} clean
 * @param {readonly FaultKind[]} kinds in the order in which they are to be tried
 * @param {Random} random
 * @param {readonly PlannedFault[]} chosen grows while this runs
 * @param {(kind: FaultKind) => void} withoutPlace told of kinds that have no place in the shot
 * @returns {Generator<PlannedFault, void, void>}
 */
export function* candidates(plan, clean, kinds, random, chosen, withoutPlace) {
  const strengths = strengthsInTurn(random.fork("strengths"));
  /** @type {Map<FaultKind, Place[]>} */
  const left = new Map();
  for (const round of [0, 1]) {
    for (const kind of kinds) {
      if (round > 0 && chosen.length >= faultsPerShot[0]) return;
      const own = random.fork(`${kind.name} ${round}`);
      const given = left.get(kind) ?? kind.places(clean, own.fork("places")).slice(0, looked);
      if (given.length === 0 && round === 0) withoutPlace(kind);
      const before = chosen.filter((fault) => fault.kind === kind);
      const places = given.filter((place) => !before.some((fault) => overlaps(fault.place, place)));
      left.set(kind, places);
      const strength = places.length === 0 ? 0 : strengths.next().value;
      for (let attempt = 0; attempt < triesPerKind && places.length > 0; attempt++) {
        const at = placeIn(places, own, clean, chosen);
        const [place] = places.splice(at, 1);
        yield { kind, strength, place, seed: `${plan.seed}/${kind.name}/${round}.${attempt}` };
        if (chosen.some((fault) => fault.kind === kind && fault.place === place)) break;
      }
    }
  }
}

/** @param {Random} random @returns {Generator<Strength, never, void>} each strength as often as the others */
function* strengthsInTurn(random) {
  for (;;) yield* random.shuffled(/** @type {const} */ ([0, 1, 2]));
}

/**
 * @param {readonly Place[]} places @param {Random} random @param {KeyedShot} clean
 * @param {readonly PlannedFault[]} chosen
 * @returns {number} index of a place
 */
function placeIn(places, random, clean, chosen) {
  const drawn = random.next();
  const { figures } = clean.performance;
  const beside = (/** @type {(a: Place, b: Place) => boolean} */ near) =>
    places.findIndex((place) => chosen.some((other) => near(place, other.place)));
  let found = -1;
  if (drawn < onSameLimb) found = beside((a, b) => shareLimb(figures, a, b));
  if (found < 0 && drawn < onSameLimb + inSameFrames) found = beside(overlaps);
  return Math.max(0, found);
}
