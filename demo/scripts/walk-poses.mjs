// @ts-check
/** Poses and measures of a shot, frame by frame: where the head is, and how fast it moves. */
import { readFileSync } from "node:fs";
import { defaultSettings, gridOf, readShot, registry, rigOf, speedOf, studyOf, worldOf } from "@keyside/core";

const { shot } = readShot(
  readFileSync(new URL("../shots/steps_0110_v2.curves.json", import.meta.url), "utf8"),
);
if (shot === null) throw new Error("Nothing in this shot can be judged.");
const study = studyOf(shot, defaultSettings(registry));
const head = rigOf(study).indexOf.get("head") ?? 0;
const { position } = worldOf(study, head);
const speed = speedOf(study, head);
gridOf(study).frames.forEach((frame, i) => {
  if (i % 12 === 0)
    console.log(`frame ${frame}: head at ${position[3 * i + 1].toFixed(3)} m, ${speed[i].toFixed(2)} m/s`);
});
