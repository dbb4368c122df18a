// @ts-check
/**
 * Habits of naming joints: what riggers write for the keys of shapes.mjs. Words are those of dictionaries.
 * @typedef {(key: string, index: number) => string} Habit
 */

/** @param {string} key */
const sideOf = (key) => (key.startsWith("left") ? "left" : key.startsWith("right") ? "right" : null);
/** @param {string} key */
const bare = (key) => {
  const side = sideOf(key);
  const rest = side === null ? key : key.slice(side.length);
  return rest.charAt(0).toLowerCase() + rest.slice(1);
};

/** @type {Record<string, string>} */
const english = {
  ...{ hips: "hips", spine1: "spine_01", spine2: "spine_02", chest: "chest", neck: "neck", head: "head" },
  ...{ headTip: "head_end", collar: "clavicle", upperArm: "upper_arm", forearm: "forearm", hand: "hand" },
  ...{ thigh: "thigh", shin: "shin", foot: "foot", toe: "toe", toeTip: "toe_end", thumb1: "thumb_01" },
  ...{
    thumb2: "thumb_02",
    index1: "index_01",
    index2: "index_02",
    middle1: "middle_01",
    middle2: "middle_02",
  },
  ...{ hock: "hock", handTip: "hand_end", tail1: "tail_01", tail2: "tail_02", tail3: "tail_03" },
  ...{ wing1: "wing_01", wing2: "wing_02", wing3: "wing_03", abdomen: "abdomen", fin1: "fin" },
  ...{ rod1: "rod_lower", rod2: "rod_upper", shade: "shade", bulb: "bulb" },
};
/** @param {Record<string, string>} words @param {string} key */
const wordOf = (words, key) => {
  const leg = /^leg(\d)([a-d])$/.exec(bare(key));
  if (leg !== null) return `leg_${leg[1]}_${leg[2]}`;
  return words[bare(key)] ?? english[bare(key)] ?? bare(key);
};

/** `thigh_l` @type {Habit} */
export const suffixed = (key) => {
  const side = sideOf(key);
  return wordOf(english, key) + (side === null ? "" : `_${side[0]}`);
};
/** `L_thigh` @type {Habit} */
export const prefixed = (key) => {
  const side = sideOf(key);
  return (side === null ? "" : `${side[0].toUpperCase()}_`) + wordOf(english, key);
};
/** `thigh.L` @type {Habit} */
export const dotted = (key) => {
  const side = sideOf(key);
  return wordOf(english, key) + (side === null ? "" : `.${side[0].toUpperCase()}`);
};
/** `LeftUpLeg`, as recordings of motion have it. @type {Habit} */
export const recorded = (key) => {
  /** @type {Record<string, string>} */
  const words = {
    ...{ hips: "Hips", spine1: "Spine", spine2: "Spine1", chest: "Spine2", neck: "Neck", head: "Head" },
    ...{ headTip: "HeadEnd", collar: "Shoulder", upperArm: "Arm", forearm: "ForeArm", hand: "Hand" },
    ...{ thigh: "UpLeg", shin: "Leg", foot: "Foot", toe: "ToeBase", toeTip: "ToeEnd" },
  };
  const side = sideOf(key);
  const word = words[bare(key)] ?? bare(key).replace(/^./, (letter) => `Hand${letter.toUpperCase()}`);
  return (side === null ? "" : side === "left" ? "Left" : "Right") + word;
};
/** `UPPERARM_LEFT` @type {Habit} */
export const shouted = (key) => {
  const side = sideOf(key);
  return (wordOf(english, key).replaceAll("_", "") + (side === null ? "" : `_${side}`)).toUpperCase();
};
/** `l_uarm`: words without their vowels, the side in front. @type {Habit} */
export const clipped = (key) => {
  const side = sideOf(key);
  /** @type {Record<string, string>} */
  const words = {
    ...{ hips: "hip", spine1: "spn1", spine2: "spn2", chest: "chst", neck: "nck", head: "hd" },
    ...{ headTip: "hd_end", collar: "clv", upperArm: "uarm", forearm: "larm", hand: "hnd" },
    ...{ thigh: "uleg", shin: "lleg", foot: "ft", toe: "toe", toeTip: "toe_end" },
    ...{ thumb1: "thmb1", thumb2: "thmb2" },
  };
  return (side === null ? "" : `${side[0]}_`) + wordOf(words, key);
};
/** `joint_07` @type {Habit} */
export const numbered = (_, index) => `joint_${String(index + 1).padStart(2, "0")}`;
/** `mara:thigh_l` @param {string} space @param {Habit} habit @returns {Habit} */
export const within = (space, habit) => (key, index) => `${space}:${habit(key, index)}`;
/** `thigh_l_jnt` @param {string} end @param {Habit} habit @returns {Habit} */
export const ended = (end, habit) => (key, index) => `${habit(key, index)}_${end}`;

/** A language: its words, and how it says left and right. @param {Record<string, string>} words @param {[string, string]} sides @returns {Habit} */
const tongue =
  (words, [left, right]) =>
  (key) => {
    const side = sideOf(key);
    return wordOf(words, key) + (side === null ? "" : `_${side === "left" ? left : right}`);
  };
export const german = tongue(
  {
    ...{ hips: "Becken", spine1: "Wirbel_1", spine2: "Wirbel_2", chest: "Brust", neck: "Hals", head: "Kopf" },
    ...{ collar: "Schluesselbein", upperArm: "Oberarm", forearm: "Unterarm", hand: "Hand" },
    ...{ thigh: "Oberschenkel", shin: "Unterschenkel", foot: "Fuss", toe: "Zehen", thumb1: "Daumen_1" },
    ...{ thumb2: "Daumen_2", index1: "Zeigefinger_1", index2: "Zeigefinger_2", middle1: "Mittelfinger_1" },
    ...{ middle2: "Mittelfinger_2", headTip: "Kopf_end", toeTip: "Zehen_end", hock: "Sprunggelenk" },
    ...{ handTip: "Hand_end", tail1: "Schwanz_1", tail2: "Schwanz_2", tail3: "Schwanz_3" },
    ...{ wing1: "Fluegel_1", wing2: "Fluegel_2", wing3: "Fluegel_3" },
  },
  ["li", "re"],
);
export const french = tongue(
  {
    ...{ hips: "bassin", spine1: "colonne_1", spine2: "colonne_2", chest: "poitrine", neck: "cou" },
    ...{ head: "tete", collar: "clavicule", upperArm: "bras", forearm: "avant_bras", hand: "main" },
    ...{ thigh: "cuisse", shin: "mollet", foot: "pied", toe: "orteils", headTip: "tete_end" },
    ...{ toeTip: "orteils_end", thumb1: "pouce_1", thumb2: "pouce_2", index1: "index_1", index2: "index_2" },
    ...{ middle1: "majeur_1", middle2: "majeur_2", tail1: "queue_1", tail2: "queue_2", tail3: "queue_3" },
    ...{ wing1: "aile_1", wing2: "aile_2", wing3: "aile_3" },
  },
  ["g", "d"],
);
export const spanish = tongue(
  {
    ...{ hips: "cadera", spine1: "columna_1", spine2: "columna_2", chest: "pecho", neck: "cuello" },
    ...{ head: "cabeza", collar: "clavicula", upperArm: "brazo", forearm: "antebrazo", hand: "mano" },
    ...{ thigh: "muslo", shin: "pantorrilla", foot: "pie", toe: "dedos_pie", headTip: "cabeza_end" },
    ...{ toeTip: "dedos_pie_end", thumb1: "pulgar_1", thumb2: "pulgar_2", index1: "indice_1" },
    ...{ index2: "indice_2", middle1: "dedo_medio_1", middle2: "dedo_medio_2" },
  },
  ["izq", "der"],
);
export const italian = tongue(
  {
    ...{ hips: "bacino", spine1: "colonna_1", spine2: "colonna_2", chest: "petto", neck: "collo" },
    ...{ head: "testa", collar: "clavicola", upperArm: "braccio", forearm: "avambraccio", hand: "mano" },
    ...{ thigh: "coscia", shin: "polpaccio", foot: "piede", toe: "dita_piede", headTip: "testa_end" },
    ...{ toeTip: "dita_piede_end", thumb1: "pollice_1", thumb2: "pollice_2", index1: "indice_1" },
    ...{ index2: "indice_2", middle1: "medio_1", middle2: "medio_2" },
  },
  ["sx", "dx"],
);
export const polish = tongue(
  {
    ...{ hips: "miednica", spine1: "kregoslup_1", spine2: "kregoslup_2", chest: "klatka", neck: "szyja" },
    ...{ head: "glowa", collar: "obojczyk", upperArm: "ramie", forearm: "przedramie", hand: "dlon" },
    ...{ thigh: "udo", shin: "lydka", foot: "stopa", toe: "palce_stopy", headTip: "glowa_end" },
    ...{ toeTip: "palce_stopy_end", thumb1: "kciuk_1", thumb2: "kciuk_2" },
  },
  ["lewy", "prawy"],
);
export const dutch = tongue(
  {
    ...{ hips: "bekken", spine1: "wervel_1", spine2: "wervel_2", chest: "borst", neck: "nek", head: "hoofd" },
    ...{ collar: "sleutelbeen", upperArm: "bovenarm", forearm: "onderarm", hand: "hand", thigh: "dijbeen" },
    ...{ shin: "onderbeen", foot: "voet", toe: "tenen", headTip: "hoofd_end", toeTip: "tenen_end" },
    ...{ thumb1: "duim_1", thumb2: "duim_2", index1: "wijsvinger_1", index2: "wijsvinger_2" },
  },
  ["links", "rechts"],
);
export const portuguese = tongue(
  {
    ...{ hips: "quadril", spine1: "coluna_1", spine2: "coluna_2", chest: "peito", neck: "pescoco" },
    ...{ head: "cabeca", collar: "clavicula", upperArm: "braco", forearm: "antebraco", hand: "mao" },
    ...{ thigh: "coxa", shin: "canela", foot: "pe", toe: "dedos_pe", headTip: "cabeca_end" },
    ...{ toeTip: "dedos_pe_end", thumb1: "polegar_1", thumb2: "polegar_2" },
  },
  ["esq", "dir"],
);
export const swedish = tongue(
  {
    ...{ hips: "hofter", spine1: "rygg_1", spine2: "rygg_2", chest: "brost", neck: "nacke", head: "huvud" },
    ...{ collar: "nyckelben", upperArm: "overarm", forearm: "underarm", hand: "hand", thigh: "lar" },
    ...{ shin: "smalben", foot: "fot", toe: "tar", headTip: "huvud_end", toeTip: "tar_end" },
  },
  ["vanster", "hoger"],
);
export const finnish = tongue(
  {
    ...{ hips: "lantio", spine1: "selka_1", spine2: "selka_2", chest: "rinta", neck: "kaula", head: "paa" },
    ...{ collar: "solisluu", upperArm: "olkavarsi", forearm: "kyynarvarsi", hand: "kasi", thigh: "reisi" },
    ...{ shin: "saari", foot: "jalka", toe: "varpaat", headTip: "paa_end", toeTip: "varpaat_end" },
  },
  ["vasen", "oikea"],
);
export const japanese = tongue(
  {
    ...{ hips: "koshi", spine1: "sebone_1", spine2: "sebone_2", chest: "mune", neck: "kubi", head: "atama" },
    ...{ collar: "sakotsu", upperArm: "joowan", forearm: "zenwan", hand: "te", thigh: "momo" },
    ...{ shin: "sune", foot: "ashi", toe: "tsumasaki", headTip: "atama_end", toeTip: "tsumasaki_end" },
  },
  ["hidari", "migi"],
);
export const turkish = tongue(
  {
    ...{ hips: "legen", spine1: "omurga_1", spine2: "omurga_2", chest: "gogus", neck: "boyun", head: "kafa" },
    ...{
      collar: "kurek",
      upperArm: "ust_kol",
      forearm: "on_kol",
      hand: "el",
      thigh: "uyluk",
      shin: "baldir",
    },
    ...{ foot: "ayak", toe: "ayakparmagi", headTip: "kafa_end", toeTip: "ayakparmagi_end", hock: "topuk" },
    ...{ tail1: "kuyruk_1", tail2: "kuyruk_2", tail3: "kuyruk_3" },
  },
  ["sol", "sag"],
);
export const hungarian = tongue(
  {
    ...{
      hips: "medence",
      spine1: "gerinc_1",
      spine2: "gerinc_2",
      chest: "mellkas",
      neck: "nyak",
      head: "fej",
    },
    ...{ collar: "kulcscsont", upperArm: "felkar", forearm: "alkar", hand: "kez", thigh: "comb" },
    ...{ shin: "labszar", foot: "boka", toe: "labujjak", headTip: "fej_end", toeTip: "labujjak_end" },
  },
  ["bal", "jobb"],
);
/** Words that the program has no list of. */
export const estonian = tongue(
  {
    ...{
      hips: "vaagen",
      spine1: "selgroog_1",
      spine2: "selgroog_2",
      chest: "rind",
      neck: "kael",
      head: "pea",
    },
    ...{ collar: "rangluu", upperArm: "olavars", forearm: "kuunarvars", hand: "labakasi", thigh: "reis" },
    ...{ shin: "saar", foot: "jalg", toe: "varbad", headTip: "pea_end", toeTip: "varbad_end" },
  },
  ["vasak", "parem"],
);
