// @ts-check
/**
 * Makes the demo's shots: `node demo/shots/make.mjs` writes them beside this file;
 * `node demo/shots/make.mjs --check` only says whether the files are what would be written.
 */
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { documentText } from "../motion/keys.mjs";
import { dancer } from "./dancer.mjs";
import { heron } from "./heron.mjs";
import { packer } from "./packer.mjs";
import { porter } from "./porter.mjs";
import { signaller } from "./signaller.mjs";

/** The faults of each version; README.md says where each shows. */
const shots = {
  jetty_0040: {
    make: heron,
    versions: [
      {
        lateBeats: true,
        stiffTail: true,
        headPop: true,
        wrapped: true,
        hitch: true,
        slide: true,
        stiffLegs: true,
        blockNeck: true,
      },
      { stiffTail: true, foldedFlat: true },
    ],
  },
  steps_0110: {
    make: porter,
    versions: [
      { earlyStop: true, slide: true, block: true, flatFoot: true, hitch: true, deadHips: true, cut: true, lowCamera: true },
      { flatFoot: true, headPop: true },
    ],
  },
  depot_0030: {
    make: packer,
    versions: [{ weightless: true, slips: true, tight: true, drab: true }, { slips: true }],
  },
  gate_0050: {
    make: signaller,
    versions: [
      { early: true, past: true, merged: true, atLens: true, flicker: true, grey: true },
      { past: true },
    ],
  },
  quay_0070: {
    make: dancer,
    versions: [
      {
        hang: true,
        twinned: true,
        wristPop: true,
        stillWrist: "left",
        stiffHair: true,
        loneHead: true,
        deadTurn: true,
        forearmHitch: true,
        straightArm: true,
      },
      { stillWrist: "left", straightArm: true, landingSlide: true },
    ],
  },
};

/** @returns {Map<string, string>} text of each file by its name */
export function makeAll() {
  const files = new Map();
  for (const [name, { make, versions }] of Object.entries(shots)) {
    versions.forEach((faults, i) => {
      files.set(`${name}_v${i + 1}.curves.json`, textOf(make, faults, i + 1));
    });
  }
  return files;
}

/**
 * A shot without any fault.
 * @param {keyof typeof shots} name @returns {string}
 */
export const cleanShot = (name) => textOf(shots[name].make, {}, 3);

/** @param {(faults: object) => { header: any, curves: any[] }} make @param {object} faults @param {number} revision */
function textOf(make, faults, revision) {
  const { header, curves } = make(faults);
  const { name, ...rest } = header.shot;
  return documentText({ ...header, shot: { name, revision, ...rest } }, curves);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const checking = process.argv.includes("--check");
  let old = 0;
  for (const [name, text] of makeAll()) {
    const path = fileURLToPath(new URL(name, import.meta.url));
    if (checking) {
      let there = "";
      try {
        there = readFileSync(path, "utf8");
      } catch {}
      if (there === text) continue;
      old++;
      console.error(`${name} is not what the generator writes; run: node demo/shots/make.mjs`);
    } else {
      writeFileSync(`${path}.new`, text);
      renameSync(`${path}.new`, path);
      console.log(`${name}: ${Math.round(text.length / 1024)} kB`);
    }
  }
  process.exitCode = old > 0 ? 1 : 0;
}
