// @ts-check
/**
 * One planted shot, judged and held against what was planted: a plain record that can be sent, kept and added up.
 * @import { BuiltShot, FaultKind } from "../types.d.ts"
 * @import { Planted, PlantedShot } from "../planting/planting.d.ts"
 * @import { FaultRecord, Fix, FixRecord, NoteView, Program, ShotRecord, Stage, TierCounts } from "./records.d.ts"
 */
import { overlaps, shareLimb } from "../planting/overlap.mjs";
import { sizeOf } from "../planting/prove.mjs";
import { limitAfter } from "./cleared.mjs";
import { damageOf } from "./damage.mjs";
import { biggestFault, weightOf } from "./rank.mjs";
import { namesPlannedKey, restoringClears } from "./right-key.mjs";
import { assigned, freshNotes, goneNotes, jointsBeside, says } from "./said.mjs";
import { viewsOf } from "./views.mjs";

/**
 * @param {PlantedShot} shot
 * @param {Program} program
 * @param {Stage} stage
 * @param {(kind: FaultKind) => boolean} [wanted] kinds whose duplicates and fixes are looked at (they cost most)
 * @returns {ShotRecord} its index in the set is left to whoever knows it
 */
export function scoreShot(shot, program, stage, wanted = () => true) {
  const { plan, twin, full, faults } = shot;
  const { figures } = full.poses.performance;
  const judge = (/** @type {BuiltShot} */ built) => {
    const notes = program.notes(program.read(built.text));
    return { notes, views: viewsOf(notes, built, (node, channel) => stage.ours(plan, built, node, channel)) };
  };
  const faulty = program.read(full.text);
  const ofTwin = judge(twin);
  const ofFull = judge(full);
  const fresh = freshNotes(ofFull.views, ofTwin.views);
  const saying = faults.map((planted) => {
    const near = jointsBeside(figures, planted.fault.place);
    const own = fresh.filter((note) => says(note, planted.fault, near));
    return [
      ...own.filter((note) => namesPlannedKey(note, planted)),
      ...own.filter((note) => !namesPlannedKey(note, planted)),
    ];
  });
  const notes = assigned(saying);
  const fixer = program.fixer(faulty);
  const weights = faults.map(({ fault, without }) =>
    weightOf(full.poses, without.poses, fault.place.to - fault.place.from + 1),
  );
  const records = faults.map((planted, index) => {
    const { fault } = planted;
    const note = notes[index];
    const looksOn = wanted(fault.kind);
    const gone = looksOn ? goneNotes(fresh, judge(planted.without).views) : [];
    /** @type {FaultRecord} */
    const record = {
      kind: fault.kind.name,
      checks: [...fault.kind.checks],
      strength: fault.strength,
      size: sizeOf(fault),
      unit: fault.kind.unit,
      measured: planted.measured,
      figure: fault.place.figure,
      joint: fault.place.joint,
      from: fault.place.from,
      to: fault.place.to,
      plannedKeys: planted.keys.size,
      overlaps: faults.some((other) => other !== planted && overlaps(other.fault.place, fault.place)),
      sharesLimb: faults.some(
        (other) => other !== planted && shareLimb(figures, other.fault.place, fault.place),
      ),
      weight: weights[index],
      said: note !== null,
      note: note === null ? null : plainNote(note),
      // One note may lie where two faults are; it says one of them.
      sharesNote: note === null && saying[index].length > 0,
      rightKey: note === null ? null : rightKey(note, planted, shot, stage),
      gone: gone.filter((one) => one !== note).length,
      nearby: note === null ? nearbyOf(fresh, planted, jointsBeside(figures, fault.place)) : [],
      fix:
        note === null || !looksOn
          ? null
          : fixRecord(fixer(ofFull.notes[note.index]), note, planted, shot, stage),
    };
    return record;
  });
  return {
    index: -1,
    name: plan.name,
    body: plan.body,
    stage: plan.style.stage,
    spacing: plan.style.spacing,
    frames: twin.poses.count,
    twin: ofTwin.views.map(plainNote),
    full: countsOf(ofFull.views),
    faults: records,
    biggest: biggestFault(weights, saying),
    dropped: shot.dropped,
  };
}

/** @param {NoteView} note @param {Planted} planted @param {PlantedShot} shot @param {Stage} stage */
function rightKey(note, planted, shot, stage) {
  if (namesPlannedKey(note, planted)) return "planned";
  if (note.key === null) return null;
  return restoringClears(note.key, planted, shot, stage.posesOf) ? "restored" : null;
}

/**
 * @param {Fix | null} fix @param {NoteView} note @param {Planted} planted
 * @param {PlantedShot} shot @param {Stage} stage @returns {FixRecord}
 */
function fixRecord(fix, note, planted, { plan, twin, full }, stage) {
  if (fix === null) return { found: false };
  const { kind, place } = planted.fault;
  const after = stage.posesOf(stage.undressed(plan, full, fix.curves));
  const left = kind.measure(after, place, twin.poses);
  return {
    found: true,
    name: fix.name,
    sketch: fix.sketch,
    cleared: left < limitAfter(planted, twin.poses),
    left,
    changed: fix.changed,
    added: fix.added,
    moves: fix.moves,
    ...damageOf({ twin: twin.poses, before: full.poses, after }, place.figure, note.from, note.to),
  };
}

/** What was said near a fault that nobody said: on its joints in frames that it shares. @param {readonly NoteView[]} notes @param {Planted} planted @param {ReadonlySet<string>} near */
function nearbyOf(notes, { fault: { place } }, near) {
  return notes
    .filter(
      ({ joint, seenAt, from, to }) =>
        from <= place.to && to >= place.from && (near.has(joint ?? "") || near.has(seenAt ?? "")),
    )
    .map(plainNote);
}

/** @param {NoteView} note */
const plainNote = ({ index, check, tier, joint, seenAt, from, to, message }) => ({
  index,
  check,
  tier,
  joint,
  seenAt,
  from,
  to,
  message,
});

/** @param {readonly { tier: string }[]} notes @returns {TierCounts} */
export function countsOf(notes) {
  /** @type {TierCounts} */
  const counts = { all: notes.length };
  for (const { tier } of notes) counts[tier] = (counts[tier] ?? 0) + 1;
  return counts;
}
