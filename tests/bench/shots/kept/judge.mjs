// @ts-check
/**
 * Judges shots that {@link file://./keep.mjs} has kept, with the program as it is now: what is said, what is false, and what is
 * said too often. Fixes and right keys are left to the bench itself.
 *
 *     node tests/bench/shots/kept/judge.mjs FOLDER... [--check NAME]... [--body NAME] [--misses] [--false] [--dup] [--shots] [--rank]
 *
 * `--misses` lists what nobody said, with what the checks answer to it; `--false` the notes on clean twins; `--dup` lists and counts further
 * notes per fault, for which each shot is judged once more per fault; `--shots` adds a line per shot; `--rank` lists the
 * shots whose biggest fault none of the first two notes says, and what they say. `--check` looks at
 * the faults and the false notes of a check alone.
 * @import { KeptFault, KeptShot } from "./kept.d.ts"
 * @import { FaultKind } from "../types.d.ts"
 * @import { NoteView } from "../scores/records.d.ts"
 */
import { readdirSync, readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { program } from "../scores/program.mjs";
import { biggestFault } from "../scores/rank.mjs";
import { assigned, freshNotes, goneNotes, says } from "../scores/said.mjs";
import { viewsOf } from "../scores/views.mjs";

const flag = { type: /** @type {const} */ ("boolean"), default: false };
const list = { type: /** @type {const} */ ("string"), multiple: /** @type {const} */ (true), default: [] };
const { values, positionals: folders } = parseArgs({
  allowPositionals: true,
  options: { check: list, body: list, misses: flag, false: flag, dup: flag, shots: flag, rank: flag },
});
const asked = program();
const strengths = ["barely", "ordinary", "strong"];

/** @typedef {{ said: number, of: number }} Share */
const total = {
  all: /** @type {Share} */ ({ said: 0, of: 0 }),
  byStrength: strengths.map(() => ({ said: 0, of: 0 })),
  byCheck: /** @type {Map<string, Share>} */ (new Map()),
  frames: 0,
  majors: 0,
  notes: 0,
  falseOf: /** @type {Map<string, number>} */ (new Map()),
  further: 0,
  first: 0,
  firstTwo: 0,
  ranked: 0,
};

for (const folder of folders) {
  for (const file of readdirSync(folder).sort()) {
    const shot = /** @type {KeptShot} */ (JSON.parse(readFileSync(`${folder}/${file}`, "utf8")));
    if (values.body.length === 0 || values.body.includes(shot.body)) judge(shot, `${folder}/${file}`);
  }
}
print();

/** @param {KeptShot} shot @param {string} file */
function judge(shot, file) {
  const jointOf = new Map(shot.joints);
  const channelOf = new Map(shot.channels);
  const viewed = (/** @type {string} */ text) => {
    const notes = asked.notes(asked.read(text));
    return viewsOf(
      notes,
      /** @type {any} */ ({ jointOf }),
      (node, channel) => channelOf.get(`${node} ${channel}`) ?? null,
    );
  };
  const [twin, full] = [viewed(shot.twin), viewed(shot.full)];
  const fresh = freshNotes(full, twin);
  const saying = shot.faults.map((fault) => {
    const own = fresh.filter((note) => saysIt(note, fault));
    return [
      ...own.filter((note) => isPlanned(note, fault)),
      ...own.filter((note) => !isPlanned(note, fault)),
    ];
  });
  const notes = assigned(saying);
  const wanted = shot.faults.map(
    ({ checks }) => values.check.length === 0 || checks.some((name) => values.check.includes(name)),
  );
  let said = 0;
  shot.faults.forEach((fault, i) => {
    if (!wanted[i]) return;
    const note = notes[i];
    if (note !== null) said++;
    count(fault, note !== null);
    if (values.dup) {
      const further = goneNotes(fresh, viewed(fault.without)).filter((one) => one !== note);
      total.further += further.length;
      if (note !== null && further.length > 0) {
        console.log(`further ${file} ${shot.body}  ${named(fault)}, said: ${line(note)}`);
        for (const one of further) console.log(`         and: ${line(one)}`);
      }
    }
    if (values.misses && note === null) tellMiss(shot, fault, fresh, saying[i].length > 0, file);
  });
  rank(shot, saying, full, file);
  const wrong = twin.filter(({ check }) => values.check.length === 0 || values.check.includes(check));
  total.frames += shot.frames;
  total.notes += wrong.length;
  for (const { check, tier } of wrong) {
    if (tier !== "major") continue;
    total.majors++;
    total.falseOf.set(check, (total.falseOf.get(check) ?? 0) + 1);
  }
  if (values.false) for (const note of wrong) console.log(`false  ${file} ${shot.body}  ${line(note)}`);
  if (values.shots) {
    const of = wanted.filter(Boolean).length;
    console.log(
      `${file} ${shot.body} ${shot.stage}: ${said} of ${of} said, ${twin.length} notes on the twin, ${full.length} on it`,
    );
  }
}

/** @param {NoteView} note @param {KeptFault} fault */
function saysIt(note, { checks, place, near }) {
  return says(note, { kind: /** @type {FaultKind} */ ({ checks }), place }, new Set(near));
}

/** @param {NoteView} note @param {KeptFault} fault */
function isPlanned({ key }, { keys }) {
  return key !== null && keys.includes(`${key.joint} ${key.channel} ${key.frame}`);
}

/** @param {KeptFault} fault @param {boolean} isSaid */
function count({ checks, strength }, isSaid) {
  const check = total.byCheck.get(checks[0]) ?? { said: 0, of: 0 };
  total.byCheck.set(checks[0], check);
  for (const share of [total.all, total.byStrength[strength], check]) {
    share.of++;
    if (isSaid) share.said++;
  }
}

/** @param {KeptShot} shot @param {NoteView[][]} saying @param {readonly NoteView[]} full @param {string} file */
function rank(shot, saying, full, file) {
  const biggest = biggestFault(
    shot.faults.map(({ weight }) => weight),
    saying,
  );
  if (biggest === null) return;
  total.ranked++;
  if (biggest.saidBy === 0) total.first++;
  if (biggest.saidBy !== null && biggest.saidBy < 2) total.firstTwo++;
  else if (values.rank) tellRank(shot, biggest, saying, full, file);
}

/**
 * @param {KeptShot} shot @param {{ fault: number, saidBy: number | null }} biggest
 * @param {NoteView[][]} saying @param {readonly NoteView[]} full @param {string} file
 */
function tellRank(shot, { fault: top, saidBy }, saying, full, file) {
  const where = saidBy === null ? "unsaid" : `said by #${saidBy + 1}`;
  console.log(
    `biggest ${file} ${shot.body} ${shot.stage}: ${named(shot.faults[top])}, ${where} of ${full.length}`,
  );
  for (const note of full.slice(0, saidBy === null ? 2 : Math.min(saidBy + 1, 6))) {
    const told = shot.faults.filter((_, i) => saying[i].some(({ index }) => index === note.index));
    console.log(`         ${line(note)}  = ${told.map(named).join("; ") || "nothing planned"}`);
  }
}

/** @param {KeptFault} fault */
function named({ kind, strength, weight, place: { joint, from, to } }) {
  return `${kind}, ${strengths[strength]}, weight ${weight.toFixed(3)}: ${joint} ${from}–${to}`;
}

/**
 * @param {KeptShot} shot @param {KeptFault} fault @param {readonly NoteView[]} fresh @param {boolean} isShared @param {string} file
 */
function tellMiss(
  shot,
  { kind, checks, strength, size, unit, measured, place, near },
  fresh,
  isShared,
  file,
) {
  const { joint, from, to } = place;
  console.log(
    `missed ${file} ${shot.body} ${shot.stage}  ${kind}, ${strengths[strength]}: ${joint} ${from}–${to}, ${+measured.toFixed(3)} ${unit} of ${+size.toFixed(3)}${isShared ? "; its note says another fault" : ""}`,
  );
  const around = fresh.filter(
    (note) =>
      note.from <= to && note.to >= from && [note.joint, note.seenAt].some((one) => near.includes(one ?? "")),
  );
  for (const note of around) console.log(`         near: ${line(note)}`);
  const node = shot.joints.find(([, id]) => id === joint)?.[0];
  if (node === undefined) return;
  const read = asked.read(shot.full);
  for (const check of checks) {
    const frame = Math.round((from + to) / 2);
    for (const why of asked.whySilent(read, { check, node, frame })) console.log(`         ${check}: ${why}`);
  }
}

/** @param {NoteView} note */
function line({ index, tier, check, joint, from, to, message }) {
  return `#${index + 1} ${tier} ${check} ${joint} ${from}–${to}: ${message.slice(0, 150)}`;
}

function print() {
  const share = (/** @type {Share} */ { said, of }) =>
    `${of === 0 ? "—" : (said / of).toFixed(2)} (${said} of ${of})`;
  const rows = [...total.byCheck].sort(([, a], [, b]) => b.of - b.said - (a.of - a.said));
  for (const [check, of] of rows) console.log(`${check.padEnd(20)} ${share(of)}`);
  const per = (/** @type {number} */ n) => ((1000 * n) / total.frames).toFixed(2);
  console.log(
    `said ${share(total.all)}; ${strengths.map((name, i) => `${name} ${share(total.byStrength[i])}`).join(", ")}`,
  );
  const majors = [...total.falseOf].sort(([, a], [, b]) => b - a);
  console.log(
    `false: majors ${per(total.majors)} per 1,000 clean frames (${majors.map(([name, n]) => `${name} ${n}`).join(", ")}), all ${per(total.notes)}`,
  );
  console.log(`biggest first ${total.first} of ${total.ranked}, among the first two ${total.firstTwo}`);
  if (values.dup)
    console.log(`further notes per fault ${(total.further / Math.max(1, total.all.of)).toFixed(2)}`);
}
