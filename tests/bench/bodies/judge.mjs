// @ts-check
/**
 * What the program says of the skeletons of the suite, held against what is right.
 * @import { Skeleton } from "./suite.mjs"
 */
import { defaultSettings, figuresOf, readShot, registry, rigOf, studyOf, verdictOf } from "@keyside/core";
import { documentOf } from "./suite.mjs";

/** The parts by which a body is known, and the joint of a shape that each is. @type {Record<string, Record<string, string>>} */
const keyParts = {
  "two legs": {
    ...{ root: "hips", head: "head", leftFoot: "leftFoot", rightFoot: "rightFoot" },
    ...{ leftHand: "leftHand", rightHand: "rightHand", leftThigh: "leftThigh", rightShin: "rightShin" },
    ...{ leftUpperArm: "leftUpperArm", rightForearm: "rightForearm" },
  },
  // A foot begins at the ankle, which is the hock.
  "four legs": {
    ...{ root: "hips", head: "head", leftFoot: "leftHock", rightFoot: "rightHock" },
    ...{ leftToes: "leftFoot", leftHand: "leftHand", rightHand: "rightHand" },
  },
  wings: { root: "hips", head: "head", leftFoot: "leftFoot", rightFoot: "rightFoot" },
};

/**
 * @typedef {{ says: string, isSure: boolean, isRight: boolean }} Told
 * @typedef {{ what: string, plan: Told, limbs: Told | null, unit: Told, up: Told }} Judged
 */

/** @param {Skeleton} skeleton @returns {Judged} */
export function judged(skeleton) {
  const { shape, names, unit = 1, up = "y" } = skeleton;
  const { shot, problems } = readShot(JSON.stringify(documentOf(skeleton)));
  if (shot === null || problems.length > 0) throw new Error(`${skeleton.what}: ${problems[0]?.message}`);
  const study = studyOf(shot, defaultSettings(registry));
  const verdict = verdictOf(study);
  const body = verdict.bodies[0];
  const figure = figuresOf(study)[0];
  /** @param {string} certainty */
  const isSure = (certainty) => certainty !== "guessed";
  const place = new Map(shape.joints.map(({ key }, index) => [names(key, index), key]));
  const { ids } = rigOf(study);
  const wanted = Object.entries(keyParts[shape.plan] ?? {}).filter(([, key]) =>
    shape.joints.some((joint) => joint.key === key),
  );
  const wrong = wanted.filter(([part, key]) => {
    const node = figure?.parts.get(/** @type {never} */ (part))?.[0];
    return node === undefined || place.get(ids[node]) !== key;
  });
  const metres = verdict.metresPerUnit;
  return {
    what: skeleton.what,
    plan: {
      says: body?.plan ?? "nothing",
      isSure: body !== undefined && isSure(body.certainty),
      isRight: body?.plan === shape.plan,
    },
    limbs:
      wanted.length === 0
        ? null
        : {
            says: wrong.length === 0 ? "all" : `not ${wrong.map(([part]) => part).join(", ")}`,
            isSure: body !== undefined && isSure(body.certainty),
            isRight: wrong.length === 0,
          },
    unit: {
      says: `${Number(metres.toPrecision(3))} m`,
      isSure: isSure(verdict.unit),
      // A proportion of the body's, not its size, is what a rest pose tells: a fifth is as near as that comes.
      isRight: Math.abs(Math.log(metres / unit)) < Math.log(1.2),
    },
    up: { says: verdict.up, isSure: isSure(verdict.upCertainty), isRight: verdict.up === up },
  };
}
