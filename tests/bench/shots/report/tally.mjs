// @ts-check
/**
 * Adds records up.
 * @import { FaultRecord, FixFound, Results, ShotRecord } from "../scores/records.d.ts"
 */

/** A share: how many of how many. @typedef {{ hits: number, of: number }} Share */

/**
 * @template T
 * @param {readonly T[]} list @param {(one: T) => boolean} holds
 * @returns {Share}
 */
export const shareOf = (list, holds) => ({ hits: list.filter(holds).length, of: list.length });

/**
 * What is known of a list of faults.
 * @param {readonly FaultRecord[]} faults
 */
export function tallyOf(faults) {
  const said = faults.filter((fault) => fault.said);
  return {
    planted: faults.length,
    said: shareOf(faults, (fault) => fault.said),
    byStrength: [0, 1, 2].map((strength) =>
      shareOf(
        faults.filter((fault) => fault.strength === strength),
        (fault) => fault.said,
      ),
    ),
    rightKey: shareOf(said, ({ rightKey }) => rightKey !== null),
    planned: shareOf(said, ({ rightKey }) => rightKey === "planned"),
    duplicates: said.length === 0 ? null : sum(said.map(({ gone }) => gone)) / said.length,
    saidElse: shareOf(
      faults.filter((fault) => !fault.said),
      ({ gone }) => gone > 0,
    ),
    fixes: fixesOf(said),
  };
}

/** @param {readonly FaultRecord[]} said */
function fixesOf(said) {
  const tried = said.flatMap(({ fix }) => (fix === null ? [] : [fix]));
  const offered = tried.flatMap((fix) => (fix.found ? [fix] : []));
  const made = offered.filter(({ sketch }) => !sketch);
  const moves = made.map((fix) => fix.moves);
  const keys = made.map(({ changed, added }) => changed + added);
  return {
    found: { hits: made.length, of: tried.length },
    verified: { hits: made.filter((fix) => fix.cleared && !isHarmful(fix)).length, of: tried.length },
    sketches: { hits: offered.length - made.length, of: tried.length },
    damage: shareOf(made, isHarmful),
    astray: shareOf(made, ({ astray }) => astray),
    moves: medianOf(moves),
    movesWorst: quantileOf(moves, 0.95),
    keys: medianOf(keys),
    keysWorst: quantileOf(keys, 0.95),
    cleared: shareOf(made, ({ cleared }) => cleared),
    sound: shareOf(made, (fix) => fix.cleared && !isHarmful(fix)),
    changed: medianOf(made.map(({ changed }) => changed)),
    added: medianOf(made.map(({ added }) => added)),
    addedWorst: quantileOf(
      made.map(({ added }) => added),
      0.95,
    ),
    outside: medianOf(made.map(({ outside }) => outside)),
    outsideWorst: quantileOf(
      made.map(({ outside }) => outside),
      0.95,
    ),
    plant: shareOf(made, ({ plant }) => plant),
    prop: shareOf(made, ({ prop }) => prop),
    otherFigure: shareOf(made, ({ otherFigure }) => otherFigure),
    frozen: shareOf(made, ({ frozen }) => frozen),
  };
}

/** @param {FixFound} fix */
const isHarmful = ({ plant, prop, otherFigure, frozen, astray }) =>
  plant || prop || otherFigure || frozen || astray;

/** @param {Results} results */
export const faultsOf = ({ shots }) => shots.flatMap(({ faults }) => faults);

/**
 * Lists by a name, in the order in which the names come first.
 * @template T
 * @param {readonly T[]} list @param {(one: T) => string} name
 * @returns {Map<string, T[]>}
 */
export function groupedBy(list, name) {
  /** @type {Map<string, T[]>} */
  const groups = new Map();
  for (const one of list) {
    const key = name(one);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return groups;
}

/**
 * The row of a fault: its kind where that is a check's name, else the first check that says it; null where none does.
 * @param {FaultRecord} fault @param {readonly string[]} checks names of all checks
 */
export function rowOf({ kind, checks: names }, checks) {
  const own = kind.replaceAll(" ", "-");
  if (checks.includes(own)) return own;
  return names.find((name) => checks.includes(name)) ?? null;
}

/** How densely a shot is keyed, in words. @param {ShotRecord} shot */
export function densityOf({ stage, spacing }) {
  if (stage === "blocked") return "poses in step keys";
  if (stage === "dense") return "a key on every frame";
  if (spacing < 6) return "a key every 3 to 6 frames";
  return spacing < 10 ? "a key every 6 to 10 frames" : "a key every 10 to 14 frames";
}

/** Reasons for which faults were dropped, by kind. @param {Results} results */
export function droppedOf({ shots }) {
  return groupedBy(
    shots.flatMap(({ dropped }) => dropped),
    ({ kind }) => kind,
  );
}

/** Share of the biggest faults that the first notes say. @param {Results} results @param {number} notes */
export function firstNotesSay({ shots }, notes) {
  const ranked = shots.flatMap(({ biggest }) => (biggest === null ? [] : [biggest]));
  return shareOf(ranked, ({ saidBy }) => saidBy !== null && saidBy < notes);
}

/** @param {readonly number[]} numbers */
export const sum = (numbers) => numbers.reduce((total, number) => total + number, 0);

/** @param {readonly number[]} numbers */
export const medianOf = (numbers) => quantileOf(numbers, 0.5);

/** The number below which a share of them lies; null for none. @param {readonly number[]} numbers @param {number} share */
export function quantileOf(numbers, share) {
  if (numbers.length === 0) return null;
  const sorted = [...numbers].sort((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const low = Math.floor(at);
  return sorted[low] + (at - low) * (sorted[Math.min(low + 1, sorted.length - 1)] - sorted[low]);
}
