// @ts-check
/**
 * Plants the shots of a seed and keeps their texts and faults in files, for {@link file://./judge.mjs}: planting takes
 * most of a run, and does not change while a check does.
 *
 *     node tests/bench/shots/kept/keep.mjs SEED FROM TO FOLDER      shots FROM to TO - 1
 * @import { KeptShot } from "./kept.d.ts"
 */
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { sizeOf } from "../planting/prove.mjs";
import { weightOf } from "../scores/rank.mjs";
import { jointsBeside } from "../scores/said.mjs";
import { plantedShot, stage } from "../shots.mjs";

const [seed, from, to, folder] = process.argv.slice(2);
if (folder === undefined) {
  console.error("keep.mjs SEED FROM TO FOLDER");
  process.exit(2);
}
mkdirSync(folder, { recursive: true });
for (let index = Number(from); index < Number(to); index++) {
  const file = `${folder}/${String(index).padStart(3, "0")}.json`;
  if (existsSync(file)) continue;
  writeFileSync(file, JSON.stringify(kept(index)));
  console.log(file);
}

/** @param {number} index @returns {KeptShot} */
function kept(index) {
  const planted = plantedShot(seed, index);
  const { plan, twin, full, faults } = planted;
  const { figures } = full.poses.performance;
  return {
    name: plan.name,
    body: plan.body,
    stage: plan.style.stage,
    frames: twin.poses.count,
    twin: twin.text,
    full: full.text,
    joints: [...full.jointOf],
    channels: channelsOf(planted),
    faults: faults.map(({ fault, measured, keys, without }) => ({
      kind: fault.kind.name,
      checks: [...fault.kind.checks],
      strength: fault.strength,
      size: sizeOf(fault),
      unit: fault.kind.unit,
      measured,
      place: fault.place,
      near: [...jointsBeside(figures, fault.place)],
      keys: [...keys.keys()],
      weight: weightOf(full.poses, without.poses, fault.place.to - fault.place.from + 1),
      without: without.text,
    })),
  };
}

/** Which of the bench's channels each channel of the document is. @param {import("../planting/planting.d.ts").PlantedShot} planted */
function channelsOf({ plan, full }) {
  const { curves } = /** @type {{ curves: { node: string, channel: string }[] }} */ (
    /** @type {unknown} */ (full.document)
  );
  return curves.flatMap(({ node, channel }) => {
    const ours = stage.ours(plan, full, node, channel);
    return ours === null ? [] : [/** @type {[string, typeof ours]} */ ([`${node} ${channel}`, ours])];
  });
}
