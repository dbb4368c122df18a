/**
 * What a name calls a node. `arm`, `leg`, `shoulder` and `hip` mean different joints in different rigs and are
 * settled with the hierarchy ({@link file://./limbs-by-name.ts}).
 */
export type PartWord =
  | "pelvis"
  | "root"
  | "holder"
  | "spine"
  | "chest"
  | "neck"
  | "head"
  | "jaw"
  | "collar"
  | "shoulder"
  | "arm"
  | "upperArm"
  | "forearm"
  | "hand"
  | "finger"
  | "hip"
  | "thigh"
  | "leg"
  | "shin"
  | "foot"
  | "toes"
  | "tail"
  | "wing"
  | "ears"
  | "hair"
  | "prop"
  | "scene";
