import { measure, type Study, shotMeasure } from "../base/study.ts";
import { stepMode } from "../curve/keys.ts";
import { curveTraitsOf } from "../curve/traits.ts";
import { curveNamesOf, curveOf, headerOf } from "../document/inputs.ts";
import { type WorkStage, workStages } from "../document/schema.ts";
import { framesAt, longestPose } from "../motion/path/held.ts";
import { gridOf } from "../time/grid.ts";
import { settingsOf } from "./study.ts";

/** How far the work on a shot is, and who says so. */
export interface ShotStage {
  readonly from: "chosen" | "declared" | "recognised" | "open";
  /** Per sample, index into {@link workStages}; null where all frames are at `stage`. */
  readonly perFrame: Uint8Array | null;
  /** Of all frames, or of those for which nothing else is declared. */
  readonly stage: WorkStage;
  /** Share of the time between keys that changes nothing and is held by step keys; what it was recognised by. */
  readonly held: number;
}

/**
 * From this share of the time between keys on a shot counts as blocked: most of what is keyed holds its pose (our
 * choice).
 */
const blockedShare = 0.5;

/**
 * The stage of work: what a run or a configuration chooses, else what the document declares, else blocking where step
 * keys hold most poses for longer than drawn animation does. Elsewhere it is left open, and all is judged.
 */
export const shotStageOf = shotMeasure<ShotStage>(
  "stage of work",
  (study) => {
    const chosen = settingsOf(study).stage ?? null;
    if (chosen !== null) return { from: "chosen", perFrame: null, stage: chosen, held: 0 };
    const { shot, stages = [] } = headerOf(study);
    const held = shot.stage === undefined ? heldShareOf(study) : 0;
    const isBlocked = held >= blockedShare;
    const stage = shot.stage ?? (isBlocked ? "blocking" : "polish");
    const from = shot.stage !== undefined ? "declared" : isBlocked ? "recognised" : "open";
    if (stages.length === 0) return { from, perFrame: null, stage, held };
    const { frames, count } = gridOf(study);
    const perFrame = new Uint8Array(count).fill(workStages.indexOf(stage));
    // Where two stretches meet, the first one counts: it is written last.
    for (const { stage: other, frames: span } of [...stages].reverse()) {
      for (let i = 0; i < count; i++) {
        if (frames[i] >= span[0] && frames[i] <= span[1]) perFrame[i] = workStages.indexOf(other);
      }
    }
    return { from: from === "open" ? "declared" : from, perFrame, stage, held };
  },
  (a, b) =>
    a.from === b.from &&
    a.stage === b.stage &&
    a.held === b.held &&
    (a.perFrame === b.perFrame ||
      (a.perFrame?.length === b.perFrame?.length &&
        a.perFrame?.every((stage, i) => stage === b.perFrame?.[i]) === true)),
);

/** Of the time between the keys of all curves that change, the share that step keys hold for longer than a drawing. */
const heldShareOf = shotMeasure<number>("held share", (study) => {
  let held = 0;
  let all = 0;
  for (const name of curveNamesOf(study)) {
    const traits = curveTraitsOf(study, name);
    if (traits === null || !(traits.high > traits.low)) continue;
    all += traits.span;
    if (traits.isStepped) held += heldTimeOf(study, name);
  }
  return all === 0 ? 0 : held / all;
});

/** Document frames for which the step keys of a curve hold for longer than a drawing. */
const heldTimeOf = measure<string, number>("held time", (study, name) => {
  const curve = curveOf(study, name);
  if (curve === null) return 0;
  const { rate, step } = gridOf(study);
  const longest = framesAt(rate, longestPose) * step;
  const { frames, modes } = curve;
  let held = 0;
  for (let key = 1; key < frames.length; key++) {
    const length = frames[key] - frames[key - 1];
    if (modes[key - 1] === stepMode && length > longest) held += length;
  }
  return held;
});

/**
 * Whether anything of a shot is as far as a stage of work.
 * @param notBefore the first stage at which something is looked for; undefined is at all of them
 */
export function isReached(study: Study, notBefore: WorkStage | undefined): boolean {
  if (notBefore === undefined) return true;
  const { perFrame, stage } = shotStageOf(study);
  const least = workStages.indexOf(notBefore);
  return perFrame === null ? workStages.indexOf(stage) >= least : perFrame.some((at) => at >= least);
}

/** Whether a stretch of samples is as far as a stage of work, in its middle. */
export function isReachedAt(
  study: Study,
  notBefore: WorkStage | undefined,
  from: number,
  to: number,
): boolean {
  if (notBefore === undefined) return true;
  const { perFrame, stage } = shotStageOf(study);
  const at = perFrame === null ? workStages.indexOf(stage) : perFrame[(from + to) >> 1];
  return at >= workStages.indexOf(notBefore);
}

/** Says that a shot was taken for blocking, and what that leaves out: one sentence; none where that is not inferred. */
export function stageSentences(study: Study): readonly string[] {
  const { from, held } = shotStageOf(study);
  if (from !== "recognised") return [];
  const { registry, checks } = settingsOf(study);
  const waiting = registry.filter(
    ({ name, notBefore }) => notBefore !== undefined && checks.get(name)?.on === true,
  ).length;
  const what = waiting === 1 ? "1 check waits" : `${waiting} checks wait`;
  return [
    `stage of work: blocking, as step keys hold ${Math.round(100 * held)} % of the keyed time; ${what} for splining or polish ("stage" in the document, or --stage polish)`,
  ];
}
