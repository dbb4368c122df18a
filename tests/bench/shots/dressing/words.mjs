// @ts-check
/**
 * What joints are called: how an id of ours falls into words, and those words in several tongues and habits.
 * Ours are plain: a figure's prefix, a part, a number or letter, a side, as in "porter_spine_2" or "upper_arm_l".
 * @import { Body } from "../types.d.ts"
 */

/**
 * @typedef {object} Words
 * @property {string} part the part's words, joined by "_"
 * @property {"left" | "right" | null} side
 * @property {string} rest numbers and letters that tell several of a kind apart, joined by "_"
 */

/** What all ids of a body begin with, up to an underscore; empty where they share nothing. @param {Body} body */
export function prefixOf({ joints }) {
  const [one, ...others] = joints.map(({ id }) => id);
  const parts = one.split("_");
  for (let n = parts.length - 1; n > 0; n--) {
    const prefix = `${parts.slice(0, n).join("_")}_`;
    if (others.length > 0 && others.every((id) => id.startsWith(prefix))) return prefix;
  }
  return "";
}

/** @param {string} id without its figure's prefix @returns {Words} */
export function wordsOf(id) {
  /** @type {Words["side"]} */
  let side = null;
  const part = [];
  const rest = [];
  for (const word of id.split("_")) {
    if (side === null && (word === "l" || word === "left")) side = "left";
    else if (side === null && (word === "r" || word === "right")) side = "right";
    else if (/^(\d+|[a-z])$/.test(word)) rest.push(word);
    else part.push(word);
  }
  return { part: part.join("_"), side, rest: rest.join("_") };
}

/** English names as skeletons in open data have them: a thigh is an up leg, a shin a leg. @type {Record<string, string>} */
export const openNames = {
  hips: "Hips",
  pelvis: "Hips",
  clavicle: "Shoulder",
  upper_arm: "Arm",
  forearm: "ForeArm",
  hand: "Hand",
  thigh: "UpLeg",
  shin: "Leg",
  foot: "Foot",
  toe: "ToeBase",
  thumb: "HandThumb",
  index: "HandIndex",
  middle: "HandMiddle",
  ring: "HandRing",
  little: "HandPinky",
};

/**
 * Words for parts by language, in the order of `partNames`; an empty one stays English.
 * @type {readonly { tongue: string, left: string, right: string, words: Record<string, string> }[]}
 */
export const tongues = [
  {
    tongue: "German",
    left: "li",
    right: "re",
    words: wordList(
      "huefte becken wirbel brust hals kopf kiefer schluesselbein oberarm unterarm hand oberschenkel unterschenkel fuss zehen " +
        "daumen zeigefinger mittelfinger ringfinger kleiner_finger ohr schwanz haar riemen mantel fluegel flosse schulterblatt pfote sprunggelenk",
    ),
  },
  {
    tongue: "Spanish",
    left: "izq",
    right: "der",
    words: wordList(
      "cadera pelvis columna pecho cuello cabeza mandibula clavicula brazo antebrazo mano muslo pantorrilla pie dedos_pie " +
        "pulgar indice medio anular menique oreja cola pelo correa abrigo ala aleta omoplato pata corvejon",
    ),
  },
  {
    tongue: "French",
    left: "g",
    right: "d",
    words: wordList(
      "hanches bassin colonne poitrine cou tete machoire clavicule bras avant_bras main cuisse jambe pied orteils " +
        "pouce index_ majeur annulaire auriculaire oreille queue cheveux sangle manteau aile nageoire omoplate patte jarret",
    ),
  },
  {
    tongue: "Polish",
    left: "lewy",
    right: "prawy",
    words: wordList(
      "biodra miednica kregoslup klatka szyja glowa szczeka obojczyk ramie przedramie dlon udo lydka stopa palce " +
        "kciuk wskazujacy srodkowy serdeczny maly ucho ogon wlosy pasek plaszcz skrzydlo pletwa lopatka lapa staw_skokowy",
    ),
  },
];

/** @param {string} list @returns {Record<string, string>} */
function wordList(list) {
  const parts =
    "hips pelvis spine chest neck head jaw clavicle upper_arm forearm hand thigh shin foot toe thumb index middle ring little ear tail hair strap coat wing fin blade paw hock";
  const words = list.split(" ");
  return Object.fromEntries(parts.split(" ").map((part, i) => [part, words[i]]));
}

/** A part in a language: the whole if it has a word, else word by word; what has none stays. @param {string} part
 * @param {Record<string, string>} words */
export function translated(part, words) {
  const whole = words[part];
  if (whole !== undefined) return whole;
  return part
    .split("_")
    .map((word) => words[word] ?? word)
    .join("_");
}
