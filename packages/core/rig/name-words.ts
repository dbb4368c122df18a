import type { PartWord } from "./part-word.ts";

/** What one word of a node's name can stand for. */
export type NameToken =
  | PartWord
  | "aid"
  | "back"
  | "end"
  | "face"
  | "fin"
  | "fingerOrOrder"
  | "fore"
  | "hanging"
  | "hind"
  | "left"
  | "loose"
  | "lower"
  | "other"
  | "right"
  | "top"
  | "upper";

const lists: readonly (readonly [NameToken, string])[] = [
  ["left", "left lft lf"],
  ["right", "right rgt rt"],
  ["pelvis", "hips pelvis pelv croup"],
  ["hip", "hip"],
  ["root", "root cog"],
  ["holder", "reference world global origin armature skeleton master"],
  ["spine", "spine spinal torso trunk abdomen abdom ab belly stomach waist lumbar vertebra vertebrae loin"],
  ["back", "back"],
  ["chest", "chest thorax thoracic ribcage ribs rib sternum withers"],
  ["neck", "neck cervical nape"],
  ["head", "head skull cranium"],
  ["jaw", "jaw mandible"],
  ["collar", "clavicle clavicula clav collar collarbone scapula"],
  ["shoulder", "shoulder shldr"],
  ["arm", "arm"],
  ["upperArm", "humerus bicep biceps"],
  ["forearm", "forearm elbow ulna radius"],
  ["hand", "hand wrist palm carpus"],
  ["finger", "finger fingers thumb pinky pinkie knuckle metacarpal phalanx phalange"],
  ["fingerOrOrder", "index middle ring little"],
  ["thigh", "thigh femur"],
  ["leg", "leg"],
  ["shin", "shin calf shank knee tibia fibula stifle gaskin"],
  ["foot", "foot ankle tarsus talus hoof hock paw pastern"],
  ["toes", "toe toes ball metatarsal metatarsus hallux"],
  ["tail", "tail"],
  ["wing", "wing wings feather feathers"],
  ["ears", "ear ears"],
  ["hair", "hair ponytail pigtail pony braid fringe bang bangs forelock mane"],
  [
    "face",
    "eye eyes eyeball eyelid lid brow eyebrow lash lip lips mouth tongue tooth teeth cheek nose nostril muzzle",
  ],
  ["fin", "fin fins flipper flippers"],
  ["loose", "ribbon ribbons coat cape cloak skirt dress scarf strap straps belt sleeve sash tassel"],
  ["hanging", "chain rope cord cable hook pendulum pendant lanyard earring earrings"],
  ["prop", "prop weapon"],
  ["scene", "camera cam light lamp spotlight locator floor ground"],
  ["upper", "upper up upr"],
  ["lower", "lower low lwr lo"],
  ["fore", "fore front"],
  ["hind", "rear hind"],
  ["end", "end nub tip site effector eff"],
  ["top", "top"],
  ["aid", "ik pole target twist roll helper aux corrective marker proxy heel"],
  ["other", "base joint bone"],
];

/** Words without their vowels, as they are written where names are to be short. They stand for themselves alone. */
const shortened: readonly (readonly [NameToken, string])[] = [
  ["pelvis", "plv plvs"],
  ["spine", "spn"],
  ["chest", "chst"],
  ["neck", "nck"],
  ["head", "hd"],
  ["collar", "clv clvcl"],
  ["shoulder", "shld shlder"],
  ["forearm", "frarm elb elbw"],
  ["hand", "hnd wrst"],
  ["finger", "fng fngr thmb"],
  ["thigh", "thgh"],
  ["shin", "shn clf kn"],
  ["foot", "ft ank ankl"],
];

const wordsOf = (from: typeof lists) =>
  new Map(from.flatMap(([token, words]) => words.split(" ").map((word) => [word, token] as const)));

/** Every word that a name may be made of, and what it stands for. */
export const nameWords: ReadonlyMap<string, NameToken> = wordsOf(lists);

/** Short forms, which are looked for only where they are a word by themselves. */
export const shortWords: ReadonlyMap<string, NameToken> = wordsOf(shortened);
