// @ts-check
/** What the corpus is made of: shots whose notes are kept. Each gives the same shot on every machine. */
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { diskFiles, documentExtension, extensionOf, loadShot, shotName } from "@keyside/server";
import { developmentSeed } from "../bench/shots/seeds.mjs";
import { plantedShot } from "../bench/shots/shots.mjs";

/**
 * @typedef {object} Source
 * @property {string} name names its file in the corpus
 * @property {string} from where it comes from, for the head of that file
 * @property {() => Promise<import("@keyside/server").LoadedShot>} load
 */

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Rates at which captures are judged, in frames per second: their own (null), and that at which films are seen. */
const captureRates = [null, 24];

/**
 * All sources, in the order of their names.
 *
 * Further sources join in here, as one more list in the array: `madeSource(name, from, make)` takes a document that
 * a program writes. Whatever that draws at random it draws from a fixed seed. Recordings that have to be installed first
 * stay out: what is committed has to come out the same on a machine that lacks them.
 * @returns {Source[]}
 * @throws where two sources have the same name
 */
export function allSources() {
  const sources = [demoShots(), captures(), benchShots()].flat();
  sources.sort((a, b) => (a.name < b.name ? -1 : 1));
  const twice = sources.find(({ name }, i) => sources[i + 1]?.name === name);
  if (twice !== undefined)
    throw new Error(`Two sources of the corpus are called "${twice.name}"; rename one.`);
  return sources;
}

/** @returns {Source[]} */
function demoShots() {
  return shotFilesIn("demo/shots", (extension) => extension === documentExtension).map((file) =>
    fileSource(file, null),
  );
}

/** @returns {Source[]} */
function captures() {
  const files = shotFilesIn("tests/fixtures/capture", (extension) => extension !== documentExtension);
  return files.flatMap((file) => captureRates.map((rate) => fileSource(file, rate)));
}

/** Development shots of the whole-shot bench, with their faults: bodies and ways of keying that differ. */
const developmentIndices = [2, 4, 9, 14, 19, 20];

/** @returns {Source[]} */
function benchShots() {
  return developmentIndices.map((index) =>
    madeSource(
      `bench-${String(index).padStart(2, "0")}`,
      "tests/bench/shots",
      () => plantedShot(developmentSeed, index).full.text,
    ),
  );
}

/**
 * @param {string} folder from the root @param {(extension: string) => boolean} isWanted
 * @returns {string[]} paths from the root
 */
function shotFilesIn(folder, isWanted) {
  const wanted = (/** @type {string} */ name) => {
    const extension = extensionOf(name);
    return extension !== null && isWanted(extension);
  };
  return readdirSync(root + folder)
    .filter(wanted)
    .map((name) => `${folder}/${name}`);
}

/**
 * A shot in a file.
 * @param {string} file path from the root @param {number | null} rate frames per second; null for its own
 * @returns {Source}
 */
function fileSource(file, rate) {
  const name = shotName(file.slice(file.lastIndexOf("/") + 1));
  return {
    name: rate === null ? name : `${name}-at-${rate}`,
    from: file,
    load: () => loadShot(file, { files: diskFiles, cwd: root, rate: rate ?? undefined }),
  };
}

/**
 * A shot that a program makes.
 * @param {string} name @param {string} from the file that makes it, from the root
 * @param {() => string} make gives the text of a curve document
 * @returns {Source}
 */
export function madeSource(name, from, make) {
  const file = `${name}${documentExtension}`;
  const files = {
    read: async () => Buffer.from(make()),
    kind: async (/** @type {string} */ path) => (path.endsWith(file) ? /** @type {const} */ ("file") : null),
  };
  return { name, from, load: () => loadShot(file, { files, cwd: root }) };
}
