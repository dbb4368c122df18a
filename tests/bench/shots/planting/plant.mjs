// @ts-check
/**
 * Puts 6 to 14 faults into a shot and proves each of them there; what cannot be proven is left out and counted.
 * @import { BuiltShot, FaultKind, Figure, PlannedFault, Random, ShotPlan } from "../types.d.ts"
 * @import { Build, Dropped, PlantedShot } from "./planting.d.ts"
 */
import { changedKeys, changedLooks, plannedKeys, seenTo } from "./changed-keys.mjs";
import { candidates, faultsPerShot } from "./choose.mjs";
import { areBeside, overlaps } from "./overlap.mjs";
import { isCleanIn, isOwn, isPresent, measured } from "./prove.mjs";

/**
 * @param {ShotPlan} plan
 * @param {readonly FaultKind[]} kinds in the order in which they are to be tried
 * @param {Build} build
 * @param {Random} random
 * @returns {PlantedShot}
 */
export function plant(plan, kinds, build, random) {
  const twin = build(plan, []);
  const wanted = random.fork("number").integer(...faultsPerShot);
  /** @type {Dropped[]} */
  const dropped = [];
  const drop = (/** @type {PlannedFault} */ { kind, strength }, /** @type {string} */ reason) =>
    dropped.push({ kind: kind.name, strength, reason });
  /** @type {PlannedFault[]} */
  const chosen = [];
  /** @type {Map<PlannedFault, string>} */
  const alone = new Map();
  const withoutPlace = (/** @type {FaultKind} */ { name }) =>
    dropped.push({ kind: name, strength: -1, reason: "no place" });
  const proposed = candidates(plan, twin.keyed, kinds, random.fork("choice"), chosen, withoutPlace);
  let together = { full: twin, withouts: /** @type {BuiltShot[]} */ ([]) };
  // What hides another is found out when all are in; then there is room for further ones.
  for (let isFull = false; !isFull; ) {
    isFull = true;
    while (chosen.length < wanted) {
      const next = proposed.next();
      if (next.done) break;
      const reason = reasonAlone(next.value, plan, twin, build, alone);
      if (reason !== null) drop(next.value, reason);
      else {
        chosen.push(next.value);
        isFull = false;
      }
    }
    if (isFull) break;
    together = provenTogether(plan, twin, build, chosen, (fault, reason) => {
      alone.delete(fault);
      drop(fault, reason);
    });
  }
  const { full, withouts } = together;
  const faults = chosen.map((fault, i) => {
    const without = withouts[i];
    const keys = plannedKeys(full.keyed, without.keyed, fault.place);
    const place = { ...fault.place, seenTo: seenTo(full.keyed, keys, fault.place) };
    return { fault: { ...fault, place }, measured: measured(fault, full.poses, twin.poses), without, keys };
  });
  return { plan, twin, full, faults, dropped };
}

/**
 * Why a fault cannot be planted even by itself; null where it can. What is planted is remembered by its keys.
 * @param {PlannedFault} fault @param {ShotPlan} plan @param {BuiltShot} twin @param {Build} build
 * @param {Map<PlannedFault, string>} alone keys of each fault that was found fit
 */
function reasonAlone(fault, plan, twin, build, alone) {
  try {
    const { figures } = twin.keyed.performance;
    if ([...alone.keys()].some((other) => isAlike(figures, other, fault)))
      return "not to be told from another";
    if (!isCleanIn(fault, twin.poses)) return "seen in the twin";
    const single = build(plan, [fault]);
    const changed = [...changedKeys(single.keyed, twin.keyed).keys()].sort();
    const keys = [...changed, ...changedLooks(single.keyed, twin.keyed)].join("\n");
    if (keys === "") return "changes no key";
    if ([...alone.values()].includes(keys)) return "same keys as another";
    if (!isPresent(fault, single.poses, twin.poses)) return "too weak alone";
    alone.set(fault, keys);
    return null;
  } catch (error) {
    return failing(error);
  }
}

/**
 * Whether one note would say both: a check in common, the same joint or one beside it, the same frames.
 * @param {readonly Figure[]} figures @param {PlannedFault} a @param {PlannedFault} b
 */
const isAlike = (figures, a, b) =>
  overlaps(a.place, b.place) &&
  areBeside(figures, a.place, b.place) &&
  a.kind.checks.some((name) => b.kind.checks.includes(name));

/** Why a fault does not hold among the others; null where it does. @param {PlannedFault} fault @param {BuiltShot} full @param {BuiltShot} twin */
function reasonTogether(fault, full, twin) {
  try {
    return isPresent(fault, full.poses, twin.poses) ? null : "hidden by others";
  } catch (error) {
    return failing(error);
  }
}

/**
 * Why a fault that is present shows nothing of its own; null where it does.
 * @param {PlannedFault} fault @param {BuiltShot} full @param {BuiltShot} without @param {BuiltShot} twin
 */
function reasonBeside(fault, full, without, twin) {
  try {
    return isOwn(fault, full.poses, without.poses, twin.poses) ? null : "measured from another";
  } catch (error) {
    return failing(error);
  }
}

/** @param {unknown} error */
const failing = (error) => `fails: ${error instanceof Error ? error.message : error}`;

/**
 * The shot with all faults that hold in it together, and for each of them the shot without it; of those that do not hold,
 * the one that came last goes first.
 * @param {ShotPlan} plan @param {BuiltShot} twin @param {Build} build
 * @param {PlannedFault[]} chosen shrinks to what holds
 * @param {(fault: PlannedFault, reason: string) => void} dropped
 * @returns {{ full: BuiltShot, withouts: BuiltShot[] }}
 */
function provenTogether(plan, twin, build, chosen, dropped) {
  const built = (/** @type {PlannedFault[]} */ faults) => (faults.length === 0 ? twin : build(plan, faults));
  /** @param {readonly (string | null)[]} reasons */
  const dropsLast = (reasons) => {
    const at = reasons.findLastIndex((reason) => reason !== null);
    if (at < 0) return false;
    dropped(chosen[at], reasons[at] ?? "");
    chosen.splice(at, 1);
    return true;
  };
  for (;;) {
    const full = built(chosen);
    if (dropsLast(chosen.map((fault) => reasonTogether(fault, full, twin)))) continue;
    const withouts = chosen.map((fault) => built(chosen.filter((other) => other !== fault)));
    if (!dropsLast(chosen.map((fault, i) => reasonBeside(fault, full, withouts[i], twin))))
      return { full, withouts };
  }
}
