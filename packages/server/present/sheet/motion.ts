import { gridOf, type ReportedStrength, rigOf, type Study, sampleAt } from "@keyside/core";
import type { Motion, MotionStrength } from "@keyside/player/motion";
import type { JudgedVersion } from "../../judge/shots/judged-version.ts";
import { drawnOf, moveOf, packed, shownOf } from "./moving.ts";
import { Points } from "./points.ts";
import type { SheetNote } from "./sheet.ts";

/**
 * A judged shot as the player takes it: what is drawn of it, and the notes that speak of frames.
 * @param fixedOf the shot after a note's fix; null where there is none
 * @param strengths what holds in it
 */
export function motionOf(
  { study, report }: JudgedVersion,
  notes: readonly SheetNote[],
  fixedOf: (note: SheetNote) => Study | null,
  strengths: readonly ReportedStrength[] = [],
): Motion {
  const points = new Points();
  const { format, version, name, rate, firstFrame, frameStep, count, grain, ...scene } = drawnOf(
    study,
    report.name,
    points,
  );
  const told = notes.flatMap((of) => {
    const { note, number, title, message, reported } = of;
    const shown = note === null ? null : shownOf(study, note, points);
    const { part, tier } = reported;
    return shown === null ? [] : [{ note: { number, title, part, tier, message, ...shown }, of }];
  });
  const holding = strengths.flatMap(
    (strength, index) => strengthOf(study, strength, index + 1, points) ?? [],
  );
  return {
    ...{ format, version, name, rate, firstFrame, frameStep, count },
    points: points.series.length,
    grain,
    poses: packed(
      points.series.map(({ on }) => on(study)),
      count,
      grain,
    ),
    ...scene,
    notes: told.map(({ note, of }) => {
      const fixed = of.fix === null ? null : fixedOf(of);
      const fix =
        of.fix === null || fixed === null ? null : moveOf(of.fix.title, study, fixed, points, grain);
      return { ...note, fix };
    }),
    ...(holding.length === 0 ? {} : { strengths: holding }),
  };
}

/** What holds, as the player shows it: the part's path over its frames, and its bones dark. */
function strengthOf(
  study: Study,
  { title, part, message, node, frames }: ReportedStrength,
  number: number,
  points: Points,
): MotionStrength | null {
  const index = rigOf(study).indexOf.get(node);
  if (index === undefined) return null;
  const [from, to] = frames.map((frame) => sampleAt(gridOf(study), frame));
  const point = points.of(index);
  return { number, title, part, message, from, to, point, marked: [point] };
}
