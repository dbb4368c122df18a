import type { Study } from "../../../base/study.ts";
import { beatsOf, liftSeries } from "../../../motion/body/beat.ts";
import { leastBeat, propulsorsOf } from "../../../motion/body/propulsors.ts";
import { gridOf } from "../../../time/grid.ts";

/** A beat has to be stronger by this factor than the figure's usual one to slow its fall: common practice. */
const stronger = 1.2;

/** Whether the propulsors of a figure beat between two samples more strongly than before, so that they lift it there. */
export function lifted(study: Study, figure: number, from: number, to: number): boolean {
  const { count, rate } = gridOf(study);
  for (const { series } of propulsorsOf(study, figure)) {
    const lift = liftSeries(beatsOf(series, rate, leastBeat), count);
    let there = 0;
    for (let i = from; i <= to; i++) there = Math.max(there, lift[i]);
    const second = Math.round(rate);
    let before = 0;
    let samples = 0;
    for (let i = Math.max(0, from - second); i < from; i++) {
      before += lift[i];
      samples++;
    }
    if (there > 0 && there >= stronger * (samples > 0 ? before / samples : 0)) return true;
  }
  return false;
}
