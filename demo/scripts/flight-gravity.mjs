// @ts-check
/** Captured motion: how strongly gravity pulls in each jump, fitted to the centre of mass. */
import { readFileSync } from "node:fs";
import { readBvh } from "@keyside/adapters";
import { defaultSettings, figuresOf, flightsOf, registry, studyOf } from "@keyside/core";

const file = new URL("../../tests/fixtures/capture/forward-jump.bvh", import.meta.url);
const { shot } = readBvh(readFileSync(file, "utf8"));
if (shot === null) throw new Error("Nothing in this file can be judged.");
const study = studyOf(shot, defaultSettings(registry));
figuresOf(study).forEach(({ id }, figure) => {
  for (const { airTime, gravity } of flightsOf(study, figure)) {
    console.log(`${id}: ${airTime.toFixed(2)} s in the air, gravity ${gravity.toFixed(2)} m/s²`);
  }
});
