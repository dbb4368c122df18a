import { defaultSettings, notesOf, readShot, registry, ShotSession, studyOf } from "@keyside/core";
import { figureCounts, keysNear, lengths, mostFramesOfMany, shotOf } from "./feed-drags.mjs";
import { median, ms, table } from "./measure.mjs";

const edits = Number(process.env.DRAG_EDITS ?? 40);
const settings = defaultSettings(registry);

/**
 * Edits of one key in a session of this process, by processor time, beside whole checks of the same shot: what the
 * protocol and a busy machine add is left out.
 * @returns a table in Markdown
 */
export function editCosts() {
  const rows = [];
  for (const figures of figureCounts) {
    for (const frames of lengths) {
      if (figures > 1 && frames > mostFramesOfMany) continue;
      const document = shotOf(figures, frames);
      const { shot } = readShot(JSON.stringify(document));
      const check = () => notesOf(studyOf(shot, settings));
      const whole = median([check, check, check].map(processorTime));
      for (const part of ["root", "leaf"]) rows.push(costs(document, shot, { figures, frames, part, whole }));
    }
  }
  const head = [
    "frames",
    "figures",
    "edited",
    "edit p50",
    "p99",
    "p99 / p50",
    "whole check",
    "edit / check",
    "share of frames between the keys beside",
    "faults tried again",
    "faults kept",
  ];
  return table(head, rows);
}

function costs(document, shot, { figures, frames, part, whole }) {
  const session = new ShotSession(shot, settings);
  const { work } = session.study.memo;
  const [{ node, channel, frame, value }] = keysNear(document, part, frames / 2, 1);
  const times = [];
  for (let turn = 0; turn < edits; turn++) {
    // What counts begins when the engine has compiled what it runs.
    if (turn === edits >> 2) {
      times.length = 0;
      Object.assign(work, { pieces: 0, keptPieces: 0 });
    }
    const change = [{ kind: "set", node, channel, frame, value: value + Math.sin(turn / 5) }];
    times.push(processorTime(() => session.edit(change)));
  }
  const counted = times.length;
  const sorted = times.sort((a, b) => a - b);
  const p50 = sorted[counted >> 1];
  const p99 = sorted[Math.ceil(0.99 * counted) - 1];
  return [
    frames,
    figures,
    part,
    ms(p50),
    ms(p99),
    (p99 / p50).toFixed(1),
    ms(whole),
    (p50 / whole).toFixed(3),
    (15 / frames).toFixed(4),
    Math.round(work.pieces / counted),
    Math.round(work.keptPieces / counted),
  ];
}

/** Milliseconds that this process was on a processor. */
function processorTime(run) {
  const before = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}
