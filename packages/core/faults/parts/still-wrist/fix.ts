import { figuresOf } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix } from "../../fix.ts";
import { keysAlone } from "../../shared/keying/rekey.ts";
import { trailingTurns, turnedInWorld } from "../../shared/posing/trail.ts";
import { stillWrist } from "./check.ts";

export const stillWristFix = defineFix(stillWrist, {
  what: "Lets a wrist trail its forearm.",
  title: ({ node, frames }) =>
    `let ${node ?? "the wrist"} trail the forearm over frames ${frames[0]} to ${frames[1]}`,
  *propose({ study, node, figure, from, to, finding }) {
    if (node < 0 || figure < 0) return;
    const { parts } = figuresOf(study)[figure];
    const side = parts.get("leftHand")?.[0] === node ? "left" : "right";
    const forearm = parts.get(`${side}Forearm`)?.[0] ?? rigOf(study).parent[node];
    const { count } = gridOf(study);
    const lag = finding.numbers.lag;
    const most = finding.numbers.amount;
    const samples = { lo: Math.max(0, from - 1), hi: Math.min(count - 1, to + 2 * Math.ceil(lag) + 2) };
    for (const [late, share] of [
      [lag, 0.5],
      [lag, 0.8],
      [1.5 * lag, 0.8],
      [2 * lag, 1],
      [3 * lag, 1],
    ]) {
      const turns = trailingTurns(study, { node, carrier: forearm, lag: late, share, most }, samples);
      for (const laying of [{ loose: keysAlone }, undefined])
        yield turnedInWorld(study, [{ node, turns }], samples, laying);
    }
  },
});
