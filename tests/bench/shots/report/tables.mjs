// @ts-check
/**
 * The tables of the report, in Markdown.
 * @import { CaptureRecord, FaultRecord, Results, ShotRecord } from "../scores/records.d.ts"
 */
import { table } from "../../measure.mjs";
import { densityOf, droppedOf, faultsOf, firstNotesSay, groupedBy, rowOf, sum, tallyOf } from "./tally.mjs";
import { counted, decimal, portion, rate, withRange } from "./words.mjs";

const strengths = ["barely seen", "ordinary", "strong"];
const saidHead = [
  "planted",
  ...strengths.map((name) => `said: ${name}`),
  "all (95 % interval)",
  "right key first",
];

/** @param {readonly FaultRecord[]} faults */
function saidCells(faults) {
  const { planted, byStrength, said, rightKey } = tallyOf(faults);
  return [planted, ...byStrength.map(portion), withRange(said), portion(rightKey)];
}

/** @param {Results} results @param {readonly string[]} checks names of all checks, in order */
export function byCheck(results, checks) {
  const faults = faultsOf(results);
  const groups = groupedBy(faults, (fault) => rowOf(fault, checks) ?? "");
  const named = checks
    .filter((name) => groups.has(name))
    .map((name) => [`\`${name}\``, groups.get(name) ?? []]);
  const nameless = [...groupedBy(groups.get("") ?? [], ({ kind }) => kind)].map(([kind, list]) => [
    `${kind} (no check names it)`,
    list,
  ]);
  const rows = /** @type {[string, FaultRecord[]][]} */ ([...named, ...nameless, ["all", faults]]);
  return table(
    ["check", ...saidHead],
    rows.map(([name, list]) => [name, ...saidCells(list)]),
  );
}

/** Checks for which nothing was planted. @param {Results} results @param {readonly string[]} checks */
export function unplanted(results, checks) {
  const rows = new Set(faultsOf(results).map((fault) => rowOf(fault, checks)));
  const names = checks.filter((name) => !rows.has(name)).map((name) => `\`${name}\``);
  return names.length === 0 ? "" : `No fault stands for ${names.join(", ")}.`;
}

/** @param {Results} results */
export function byBody({ shots }) {
  return table(
    ["body", "shots", ...saidHead, "false notes per 1,000 clean frames: major", "all"],
    [...groupedBy(shots, ({ body }) => body), /** @type {const} */ (["all", shots])].map(([body, list]) => [
      body,
      list.length,
      ...saidCells(list.flatMap(({ faults }) => faults)),
      ...falseCells(list),
    ]),
  );
}

/** @param {readonly ShotRecord[]} shots */
function falseCells(shots) {
  const notes = shots.flatMap(({ twin }) => twin);
  const frames = framesOf(shots);
  const major = notes.filter(({ tier }) => tier === "major" || tier === "broken").length;
  return [rate(major, frames, 1000), rate(notes.length, frames, 1000)];
}

/** @param {Results} results */
export function byDensity({ shots }) {
  return table(
    ["keyed", "shots", ...saidHead],
    [...groupedBy(shots, densityOf)].map(([density, list]) => [
      density,
      list.length,
      ...saidCells(list.flatMap(({ faults }) => faults)),
    ]),
  );
}

/** @param {Results} results */
export function byStrength(results) {
  const faults = faultsOf(results);
  return table(
    ["strength", "planted", "said (95 % interval)", "right key first", "right key planned"],
    strengths.map((name, strength) => {
      const { planted, said, rightKey, planned } = tallyOf(
        faults.filter((fault) => fault.strength === strength),
      );
      return [name, planted, withRange(said), withRange(rightKey), portion(planned)];
    }),
  );
}

/** Faults that share frames or limbs, and those that do not. @param {Results} results */
export function byCompany(results) {
  const faults = faultsOf(results);
  const rows = /** @type {[string, FaultRecord[]][]} */ ([
    ["on a limb, in frames where another is", faults.filter(({ sharesLimb }) => sharesLimb)],
    ["in frames of another, elsewhere on the figure", faults.filter((f) => f.overlaps && !f.sharesLimb)],
    ["alone in its frames", faults.filter(({ overlaps }) => !overlaps)],
  ]);
  return table(
    ["fault", ...saidHead],
    rows.map(([name, list]) => [name, ...saidCells(list)]),
  );
}

/** @param {Results} results */
export function falseNotes({ shots, captures }) {
  const tiers = ["broken", "major", "minor", "polish"];
  const groups = [...groupedBy(shots, ({ stage }) => stage), /** @type {const} */ (["all", shots])];
  const rows = groups.map(([name, list]) => {
    const notes = list.flatMap(({ twin }) => twin);
    const frames = framesOf(list);
    return [
      name,
      frames,
      ...tiers.map((tier) => rate(notes.filter((note) => note.tier === tier).length, frames, 1000)),
      rate(notes.length, frames, 1000),
    ];
  });
  const recorded = captures.map(({ name, frames, notes }) => [
    `recording ${name}`,
    frames,
    ...tiers.map((tier) => rate(notes[tier] ?? 0, frames, 1000)),
    rate(notes.all, frames, 1000),
  ]);
  return table(["clean shots", "frames", ...tiers, "all"], [...rows, ...recorded]);
}

/** @param {Results} results */
export function falseByCheck({ shots }) {
  const notes = shots.flatMap(({ twin, name }) => twin.map((note) => ({ ...note, shot: name })));
  const frames = framesOf(shots);
  const groups = [...groupedBy(notes, ({ check }) => check)].sort((a, b) => b[1].length - a[1].length);
  return table(
    ["check", "false notes per 1,000 frames", "of them major", "in shots"],
    groups.map(([check, list]) => [
      `\`${check}\``,
      rate(list.length, frames, 1000),
      rate(list.filter(({ tier }) => tier === "major").length, frames, 1000),
      new Set(list.map(({ shot }) => shot)).size,
    ]),
  );
}

/** @param {Results} results */
export function summary(results) {
  const { shots, captures } = results;
  const { duplicates, saidElse, fixes } = tallyOf(faultsOf(results));
  const frames = framesOf(shots);
  const twinNotes = shots.flatMap(({ twin }) => twin);
  const recorded = framesOf(captures);
  const [major, all] = falseCells(shots);
  const toRead = [
    rate(twinNotes.length, frames, 100),
    rate(sum(shots.map(({ full }) => full.all)), frames, 100),
    rate(sum(captures.map(({ notes }) => notes.all)), recorded, 100),
  ];
  return table(
    ["what", "measured"],
    [
      ["false notes per 1,000 clean frames: major, all", `${major}, ${all}`],
      ["notes per 100 frames on clean twins, faulty shots, captures", toRead.join(", ")],
      ["further notes that go with a said fault, per fault", decimal(duplicates)],
      ["of the faults that are not said, those with which some note goes", counted(saidElse)],
      ["biggest fault of the shot is said by the first note", withRange(firstNotesSay(results, 1))],
      ["by one of the first two", withRange(firstNotesSay(results, 2))],
      ["said faults for which a fix is offered", withRange(fixes.found)],
      ["fixes that clear the fault by its own measure", withRange(fixes.cleared)],
      ["fixes that clear it and break nothing", withRange(fixes.sound)],
      ["said faults with a fix that clears them and breaks nothing", withRange(fixes.verified)],
      ["fixes that damage something", counted(fixes.damage)],
      [
        "of them: planted points, held props, other figures, a limb frozen, motion elsewhere",
        [fixes.plant, fixes.prop, fixes.otherFigure, fixes.frozen, fixes.astray]
          .map(({ hits }) => hits)
          .join(", "),
      ],
      ["said faults for which a sketch alone is offered", withRange(fixes.sketches)],
      [
        "moves of a fix, as it tells them: median, 95th percentile",
        `${decimal(fixes.moves, 0)}, ${decimal(fixes.movesWorst, 0)}`,
      ],
      [
        "keys that a fix changes or adds: median, 95th percentile",
        `${decimal(fixes.keys, 0)}, ${decimal(fixes.keysWorst, 0)}`,
      ],
      [
        "keys that it adds: median, 95th percentile",
        `${decimal(fixes.added, 0)}, ${decimal(fixes.addedWorst, 0)}`,
      ],
      [
        "motion changed outside, % of the stature: median, worst of 20",
        [fixes.outside, fixes.outsideWorst].map((n) => (n === null ? "—" : (100 * n).toFixed(2))).join(", "),
      ],
    ],
  );
}

/** @param {Results} results @param {readonly string[]} checks */
export function fixesByCheck(results, checks) {
  const said = faultsOf(results).filter((fault) => fault.said && fault.fix !== null);
  return table(
    [
      "check",
      "said",
      "fix offered",
      "clears the fault",
      "and breaks nothing",
      "share of said",
      "damage",
      "sketches",
      "moves: median, 95th percentile",
      "keys: median, 95th percentile",
      "moves outside, % (median)",
    ],
    [...groupedBy(said, (fault) => `\`${rowOf(fault, checks) ?? fault.kind}\``)].map(([name, list]) => {
      const { fixes } = tallyOf(list);
      return [
        name,
        list.length,
        portion(fixes.found),
        portion(fixes.cleared),
        portion(fixes.sound),
        portion(fixes.verified),
        fixes.damage.hits,
        fixes.sketches.hits,
        `${decimal(fixes.moves, 0)}, ${decimal(fixes.movesWorst, 0)}`,
        `${decimal(fixes.keys, 0)}, ${decimal(fixes.keysWorst, 0)}`,
        fixes.outside === null ? "—" : (100 * fixes.outside).toFixed(2),
      ];
    }),
  );
}

/** Every kind of fault: planted, said, by what, and why others were dropped. @param {Results} results */
export function byKind(results) {
  const planted = groupedBy(faultsOf(results), ({ kind }) => kind);
  const dropped = droppedOf(results);
  const kinds = [...new Set([...planted.keys(), ...dropped.keys()])].sort();
  return table(
    ["kind of fault", "planted", "said", "said by", "shots without a place", "dropped, and why"],
    kinds.map((kind) => {
      const faults = planted.get(kind) ?? [];
      const reasons = groupedBy(dropped.get(kind) ?? [], ({ reason }) => reason);
      const by = groupedBy(
        faults.flatMap(({ note }) => (note === null ? [] : [note])),
        ({ check }) => check,
      );
      return [
        kind,
        faults.length,
        counted(tallyOf(faults).said),
        [...by].map(([check, notes]) => `\`${check}\` ${notes.length}`).join(", "),
        reasons.get("no place")?.length ?? 0,
        [...reasons]
          .filter(([reason]) => reason !== "no place")
          .map(([reason, list]) => `${reason} ${list.length}`)
          .join(", "),
      ];
    }),
  );
}

/** @param {readonly (ShotRecord | CaptureRecord)[]} shots */
export const framesOf = (shots) => sum(shots.map(({ frames }) => frames));
