// @ts-check
/**
 * Asks for fixes on shots that {@link file://./keep.mjs} has kept, and holds them against what was planted, as the bench does.
 *
 *     node tests/bench/shots/kept/fixes.mjs SEED FOLDER [--check NAME]... [--shots FROM-TO] [--cases] [--out FILE]
 *
 * The seed is that of which the folder's shots were kept. `--check` looks at notes of a check alone; `--cases` lists every fix that was not
 * offered, or fails, with what the program says against its proposals, or its moves; `--out` writes all records as JSON.
 * @import { Shot } from "@keyside/core"
 * @import { KeptFault, KeptShot } from "./kept.d.ts"
 * @import { FaultKind, PlannedFault } from "../types.d.ts"
 * @import { NoteView } from "../scores/records.d.ts"
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { build } from "../build.mjs";
import { faultKinds } from "../faults/index.mjs";
import { limitAfter } from "../scores/cleared.mjs";
import { damageOf } from "../scores/damage.mjs";
import { plainCurve, program, proverOf } from "../scores/program.mjs";
import { assigned, freshNotes, says } from "../scores/said.mjs";
import { viewsOf } from "../scores/views.mjs";
import { planAt, stage } from "../shots.mjs";
import { printed } from "./fix-table.mjs";

const flag = { type: /** @type {const} */ ("boolean"), default: false };
const list = { type: /** @type {const} */ ("string"), multiple: /** @type {const} */ (true), default: [] };
const text = { type: /** @type {const} */ ("string") };
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { check: list, cases: flag, out: text, shots: text },
});
const [seed, folder] = positionals;
if (folder === undefined) {
  console.error("fixes.mjs SEED FOLDER [--check NAME]... [--shots FROM-TO] [--cases] [--out FILE]");
  process.exit(2);
}
const asked = program();
const [low, high] = (values.shots ?? "0-9999").split("-").map(Number);
/** A measure may differ by this share from what was kept: digits of the document. */
const digits = 0.02;

/** @type {import("./kept.d.ts").FixCase[]} */
const cases = [];
for (const file of readdirSync(folder).sort()) {
  const index = Number.parseInt(file, 10);
  if (index < low || index > high) continue;
  const kept = /** @type {KeptShot} */ (JSON.parse(readFileSync(`${folder}/${file}`, "utf8")));
  cases.push(...casesOf(kept, index));
}
if (values.out !== undefined) writeFileSync(values.out, `${JSON.stringify(cases, null, 1)}\n`);
console.log(printed(cases));

/** @param {KeptShot} kept @param {number} index */
function casesOf(kept, index) {
  const jointOf = new Map(kept.joints);
  const channelOf = new Map(kept.channels);
  const shot = asked.read(kept.full);
  const prover = proverOf(shot);
  const { notes } = prover;
  const viewed = (/** @type {typeof notes} */ some) =>
    viewsOf(
      some,
      /** @type {any} */ ({ jointOf }),
      (node, channel) => channelOf.get(`${node} ${channel}`) ?? null,
    );
  const fresh = freshNotes(viewed(notes), viewed(asked.notes(asked.read(kept.twin))));
  const saying = kept.faults.map((fault) => {
    const own = fresh.filter((note) => saysIt(note, fault));
    return [
      ...own.filter((note) => isPlanned(note, fault)),
      ...own.filter((note) => !isPlanned(note, fault)),
    ];
  });
  const said = assigned(saying);
  const wanted = said.some(
    (note) => note !== null && (values.check.length === 0 || values.check.includes(note.check)),
  );
  if (!wanted) return [];
  const plan = planAt(seed, index);
  const twin = build(plan, []);
  if (twin.text !== kept.twin) throw new Error(`${kept.name} was not kept of the seed "${seed}".`);
  const posed = (/** @type {Shot} */ { curves }) =>
    stage.posesOf(stage.undressed(plan, twin, curves.map(plainCurve)));
  const before = posed(shot);
  return kept.faults.flatMap((fault, k) => {
    const view = said[k];
    if (view === null || (values.check.length > 0 && !values.check.includes(view.check))) return [];
    const kind = /** @type {FaultKind} */ (faultKinds.find(({ name }) => name === fault.kind));
    const planned = /** @type {PlannedFault} */ ({ kind, place: fault.place, strength: fault.strength });
    const note = notes[view.index];
    const started = performance.now();
    const proven = prover.prove(note);
    const taken = performance.now() - started;
    const head = {
      shot: index,
      body: kept.body,
      stage: kept.stage,
      kind: fault.kind,
      size: fault.strength,
      check: note.check,
      node: note.node,
      frames: note.frames,
      message: note.message,
      taken: Math.round(taken),
      measured: fault.measured,
    };
    const isOffered = proven?.kind === "fix";
    if (proven === null || !isOffered) {
      const one = {
        ...head,
        offered: false,
        sketch: proven !== null,
        why: prover.whyNot(note),
        moves: proven?.moves.map(({ text }) => text) ?? [],
      };
      tell(one);
      return [one];
    }
    const after = posed(prover.edited(proven));
    const without = { poses: posed(asked.read(fault.without)) };
    const limit = limitAfter(
      /** @type {any} */ ({ fault: planned, without, measured: fault.measured }),
      twin.poses,
    );
    const left = kind.measure(after, fault.place, twin.poses);
    // Where poses alone do not give the measure back, nothing can be said.
    const again = kind.measure(before, fault.place, twin.poses);
    const isMeasured = Math.abs(again - fault.measured) <= digits * Math.abs(fault.measured);
    const damage = damageOf(
      { twin: twin.poses, before, after },
      fault.place.figure,
      note.frames[0],
      note.frames[1],
    );
    const broken = /** @type {const} */ (["astray", "plant", "prop", "otherFigure", "frozen"]).filter(
      (name) => damage[name],
    );
    const added = proven.changes.filter((change) => change.before === null).length;
    const one = {
      ...head,
      offered: true,
      isMeasured,
      cleared: left < limit,
      left,
      limit,
      broken,
      outside: damage.outside,
      title: proven.title,
      keys: proven.changes.length,
      added,
      moves: proven.moves.map(({ text }) => text),
    };
    tell(one);
    return [one];
  });
}

/** @param {NoteView} note @param {KeptFault} fault */
function saysIt(note, { checks, place, near }) {
  return says(note, { kind: /** @type {FaultKind} */ ({ checks }), place }, new Set(near));
}

/** @param {NoteView} note @param {KeptFault} fault */
function isPlanned({ key }, { keys }) {
  return key !== null && keys.includes(`${key.joint} ${key.channel} ${key.frame}`);
}

/** @param {any} one */
function tell(one) {
  const isGood = one.offered && one.cleared && one.broken.length === 0;
  process.stderr.write(isGood ? "." : one.offered ? "x" : "-");
  if (!values.cases || isGood) return;
  const head = `\n${one.shot} ${one.body} ${one.stage}: ${one.check} of ${one.node} ${one.frames.join("–")} (${one.kind}, size ${one.size}, ${one.taken} ms)\n  ${one.message}`;
  const rest = one.offered
    ? `  ${one.cleared ? "cleared" : `left ${one.left.toFixed(3)} of ${one.measured.toFixed(3)}, limit ${one.limit.toFixed(3)}`}; breaks ${one.broken.join(", ") || "nothing"}; ${one.keys} keys`
    : `  not offered${one.sketch ? ", a sketch is" : ""}: ${one.why}`;
  console.log([head, rest, ...one.moves.map((/** @type {string} */ move) => `    ${move}`)].join("\n"));
}
