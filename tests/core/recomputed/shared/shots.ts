import { existsSync, readdirSync, readFileSync } from "node:fs";
import { type CheckName, type CurveDocument, readShot, type Shot, shotOf } from "@keyside/core";
import { examples } from "@keyside/core/examples";
import { readBvh } from "../../../../packages/adapters/bvh/read.ts";
import { shotsModule } from "../../../bench/shots/load.ts";

/** Shots whose notes are computed again. Each is made when it is asked for. */
export interface NamedShot {
  readonly name: string;
  readonly make: () => Shot;
}

const root = new URL("../../../../", import.meta.url);
const read = (path: string) => readFileSync(new URL(path, root), "utf8");

function shotIn(text: string): Shot {
  const { shot, problems } = readShot(text);
  if (shot === null) throw new Error(problems.map(({ message }) => message).join("; "));
  return shot;
}

/** @throws Error where the document cannot be used */
export function shotFrom(document: CurveDocument): Shot {
  const { shot, problems } = shotOf(document);
  if (shot === null) throw new Error(problems.map(({ message }) => message).join("; "));
  return shot;
}

export function demoShots(): readonly NamedShot[] {
  return readdirSync(new URL("demo/shots", root))
    .filter((file) => file.endsWith(".curves.json"))
    .map((file) => ({ name: file, make: () => shotIn(read(`demo/shots/${file}`)) }));
}

/** Development shots of the whole-shot bench, with the faults that are planted in them. */
export async function developmentShots(indices: readonly number[]): Promise<readonly NamedShot[]> {
  const { developmentSeed } = await shotsModule("./seeds.mjs");
  const { plantedShot } = await shotsModule("./shots.mjs");
  return indices.map((index) => ({
    name: `development shot ${index}`,
    make: () => shotIn(plantedShot(developmentSeed, index).full.text),
  }));
}

/** The captured jump, seen at 24 frames per second. */
export function capturedJump(): NamedShot {
  const bvh = () => readBvh(read("tests/fixtures/capture/forward-jump.bvh"), { rate: 24 });
  return { name: "the captured jump", make: () => bvh().shot as Shot };
}

/** Recordings of the Debian package assimp-testmodels, seen at 24 frames per second; none where it is not installed. */
export function recordings(): readonly NamedShot[] {
  const files = ["01_01", "01_03", "Boxing_Toes"].map((name) => `/usr/share/assimp/models/BVH/${name}.bvh`);
  return files
    .filter((file) => existsSync(file))
    .map((file) => ({
      name: file.slice(file.lastIndexOf("/") + 1),
      make: () => readBvh(readFileSync(file, "utf8"), { rate: 24 }).shot as Shot,
    }));
}

/** The motions with the fault that the examples of a check hold, and those that only an excuse keeps silent. */
export function exampleMotions(check: string) {
  const { faulty, silent } = examples[check as CheckName];
  return [
    ...faulty.map(({ motion, config }) => ({ motion, config })),
    ...silent.flatMap(({ unexcused, config }) =>
      unexcused === undefined ? [] : [{ motion: unexcused, config }],
    ),
  ];
}
