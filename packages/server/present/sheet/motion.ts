import type { Study } from "@keyside/core";
import type { Motion } from "@keyside/player/motion";
import type { JudgedVersion } from "../../judge/shots/judged-version.ts";
import { drawnOf, moveOf, Points, packed, shownOf } from "./moving.ts";
import type { SheetNote } from "./sheet.ts";

/**
 * A judged shot as the player takes it: what is drawn of it, and the notes that speak of frames.
 * @param fixedOf the shot after a note's fix; null where there is none
 */
export function motionOf(
  { study, report }: JudgedVersion,
  notes: readonly SheetNote[],
  fixedOf: (note: SheetNote) => Study | null,
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
  };
}
