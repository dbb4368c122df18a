/** The bench's numbers in Markdown. */
import { table } from "../measure.mjs";
import { lookedAt } from "./capture-notes.mjs";

/** Index of the strength that is clearly visible. */
const plain = 2;

/** @returns {string} a page */
export function reportOf({ registry, injectors, clean, measured, wanted }) {
  const procedural = clean.filter(({ kind }) => kind !== "capture");
  const captured = clean.filter(({ kind }) => kind === "capture");
  const byCheck = new Map(measured.map((result) => [result.check, result]));
  const rows = registry
    .filter(({ name }) => byCheck.has(name))
    .map(({ name }) => rowOf(name, byCheck.get(name), procedural, captured));
  const faults = injectors.filter(({ check }) => byCheck.has(check));
  return [
    "# Fault bench",
    "",
    "This is the bench at unit level: each check by itself, one fault at a time. [The whole-shot bench](shots-bench.md) is harder. Known faults are put into clean motion, and the notes are compared with what is known of them. This page is written by `npm run bench:faults`; the numbers are as they came out, and no threshold of a check was set from them.",
    "",
    `A fault is an edit of keys, as a slip of an animator's would be. Each kind of fault is put at ${wanted} places that are drawn at random, at four strengths: the first just past the floor that the check's page gives, the third clearly visible. A fault counts as found where its check has a note that was not there before, within two frames of it, on a part that it moves or with a key that it changed.`,
    "",
    table(
      [
        "check",
        "found at strength 1",
        "2",
        "3",
        "4",
        "said by a check it yields to (3)",
        "right key first (3)",
        "frame error (3)",
        "verified fix (3)",
        "false major notes per 1,000 frames, procedural",
        "all",
        "major notes per 1,000 frames, capture: all / looked at and found right / false",
        "all notes, capture",
      ],
      [...rows, totalRow(registry, measured, procedural, captured)],
    ),
    "",
    "A frame error is the mean distance of a note's first and last frame from the fault's; — where a fault has no frames of its own. A fix is verified where the edit that is offered for the note was made in memory and took the note away without leaving another as heavy; — where there is no fix for the check. The right key is first where the first key that the note names is one that was changed: its node, its channel and its frame. Frames of procedural motion count twice, once for either way of keying.",
    "",
    "Real capture is no clean motion: it holds slips of the recording, and actors do what the checks remark on. Its major notes were therefore sorted by hand, by one reader and without a second opinion: each was compared with the rows as they were recorded (100 or 120 a second), with the frames at 24 a second and against what the rest of the body does there. A note is found right where what it says is in the recorded rows themselves, where nothing that the check's page excuses explains it, and where its part, frames and size are those of what is seen; it is then listed below with the reason. A major note that is not listed counts as false. Notes of lower tiers were not sorted, and the list holds for the recordings as a whole, of which the bench takes extracts.",
    "",
    "## The faults",
    "",
    table(
      ["check", "strengths", "", "in"],
      faults.map(({ check, strengths, unit, bases, only }) => [
        `\`${check}\``,
        strengths.join(", "),
        unit,
        basesIn(clean, bases, only),
      ]),
    ),
    "",
    "## Major notes on capture that were found right",
    "",
    table(
      ["recording", "note", "at", "frames", "is", "why"],
      Object.entries(lookedAt).flatMap(([recording, notes]) =>
        notes.map(({ check, node, frames, is, why }) => [
          recording,
          `\`${check}\``,
          node,
          frames[0] === frames[1] ? frames[0] : frames.join(" to "),
          is === "slip" ? "a slip of the recording" : "acted so",
          why,
        ]),
      ),
    ),
    "",
    "## The motions",
    "",
    table(
      ["motion", "keyed", "frames", "major notes", "of them found right", "all notes"],
      clean.map(({ name, kind, frames, notes }) => [
        name,
        kindWords[kind],
        frames,
        count(notes, "major"),
        count(
          notes.filter(({ isReal }) => isReal),
          "major",
        ),
        notes.length,
      ]),
    ),
  ].join("\n");
}

const kindWords = { keyed: "at turning points", dense: "on every frame", capture: "captured" };

function rowOf(name, { strengths }, procedural, captured) {
  return [
    `\`${name}\``,
    ...strengths.map(({ outcomes }) => share(outcomes, ({ found }) => found)),
    ...qualityOf(strengths[plain].outcomes),
    ...falseNotes(procedural, name),
    ...captureNotes(captured, name),
  ];
}

function qualityOf(outcomes) {
  const found = outcomes.filter((outcome) => outcome.found);
  const timed = found.filter(({ frameError }) => frameError !== null);
  const tried = found.filter(({ fixed }) => fixed !== undefined);
  return [
    share(outcomes, ({ saidBetter }) => saidBetter === true, ""),
    share(found, ({ namesKey }) => namesKey),
    timed.length === 0
      ? "—"
      : (timed.reduce((sum, { frameError }) => sum + frameError, 0) / timed.length).toFixed(1),
    share(tried, ({ fixed }) => fixed),
  ];
}

function totalRow(registry, measured, procedural, captured) {
  const at = (strength) => measured.flatMap(({ strengths }) => strengths[strength].outcomes);
  const names = new Set(measured.map(({ check }) => check));
  const all = measured.length === registry.length ? null : names;
  return [
    "all",
    ...[0, 1, 2, 3].map((strength) => share(at(strength), ({ found }) => found)),
    ...qualityOf(at(plain)),
    ...falseNotes(procedural, null, all),
    ...captureNotes(captured, null, all),
  ];
}

function falseNotes(clean, name, among = null) {
  const { notes, rate } = notesIn(clean, name, among);
  return [rate(count(notes, "major")), rate(notes.length)];
}

/** Major notes on capture: all, those that a reader found right, the others; and notes of all tiers. */
function captureNotes(captured, name, among = null) {
  const { notes, rate } = notesIn(captured, name, among);
  const major = notes.filter(({ tier }) => tier === "major");
  const real = major.filter(({ isReal }) => isReal).length;
  const parts = [major.length, real, major.length - real].map(rate).join(" / ");
  return [major.length === 0 ? "0" : parts, rate(notes.length)];
}

/** Notes of one check, or of some, on some motions, and what makes a rate per 1,000 frames of a number of them. */
function notesIn(clean, name, among) {
  const frames = clean.reduce((sum, base) => sum + base.frames, 0);
  const notes = clean
    .flatMap((base) => base.notes)
    .filter(({ check }) => (name === null ? (among?.has(check) ?? true) : check === name));
  const rate = (number) => (number === 0 ? "0" : ((1000 * number) / frames).toFixed(2));
  return { notes, rate };
}

function count(notes, tier) {
  return notes.filter((note) => note.tier === tier).length;
}

function share(list, holds, none = "0.00") {
  if (list.length === 0) return "—";
  const number = list.filter(holds).length;
  return number === 0 ? none : (number / list.length).toFixed(2);
}

function basesIn(clean, kinds, only) {
  const fitting = clean.filter((base) => (kinds?.includes(base.kind) ?? true) && (only?.(base) ?? true));
  const names = (list) => [...new Set(list.map(({ name }) => name))];
  const [chosen, all] = [names(fitting), names(clean)];
  const procedural = names(clean.filter(({ kind }) => kind !== "capture"));
  const left = (from) => from.filter((name) => !chosen.includes(name));
  const allOf = (from, words) =>
    left(from).length === 0
      ? words
      : left(from).length <= 2
        ? `${words} but ${left(from).join(" and ")}`
        : null;
  const keyed = kinds?.length === 1 ? ", keyed at turning points" : "";
  if (chosen.some((name) => !procedural.includes(name)))
    return allOf(all, "all motions") ?? chosen.join(", ");
  return (allOf(procedural, "all procedural motions") ?? chosen.join(", ")) + keyed;
}

/** What was not found, or not named, at the third strength. */
export function missesOf(measured) {
  return measured
    .flatMap(({ check, strengths }) =>
      strengths[plain].outcomes.flatMap(({ base, found, namesKey, saidBy, at, named }) => {
        if (!found)
          return [`${check}: not found in ${base} at ${at}${saidBy === null ? "" : `, said by ${saidBy}`}`];
        return namesKey ? [] : [`${check}: in ${base} at ${at} names ${named ?? "no key"}`];
      }),
    )
    .join("\n");
}
