import type { NameToken } from "./name-words.ts";

type Side = "left" | "right";

/** A language in which the joints of a rig may be named. Words are lower case and without accents. */
export interface Language {
  readonly words: ReadonlyMap<string, NameToken>;
  /** Single letters that stand for a side. */
  readonly letters: Readonly<Record<string, Side>>;
}

type Lists = Partial<Record<NameToken, string>>;

function language(letters: Readonly<Record<string, Side>>, lists: Lists): Language {
  const words = Object.entries(lists).flatMap(([token, list]) =>
    list.split(" ").map((word) => [word, token as NameToken] as const),
  );
  return { letters, words: new Map(words) };
}

/** Everyday words for parts of a body, from dictionaries; letters with two dots are also written with an e. */
const languages: readonly Language[] = [
  // French.
  language(
    { g: "left", d: "right" },
    {
      ...{
        left: "gauche",
        right: "droite droit",
        root: "racine",
        pelvis: "bassin hanches croupe",
        hip: "hanche",
      },
      ...{ spine: "colonne vertebrale vertebre dos ventre taille reins echine tronc" },
      ...{
        chest: "poitrine torse buste garrot",
        neck: "cou nuque encolure",
        head: "tete crane",
        jaw: "machoire mandibule",
      },
      ...{ collar: "clavicule omoplate", shoulder: "epaule", arm: "bras", forearm: "coude avantbras" },
      ...{ hand: "main poignet paume", fingerOrOrder: "doigt doigts auriculaire majeur annulaire" },
      ...{
        finger: "pouce",
        thigh: "cuisse",
        leg: "jambe",
        shin: "mollet genou",
        foot: "pied cheville sabot patte jarret",
      },
      ...{ toes: "orteil orteils", tail: "queue", wing: "aile ailes plume plumes", ears: "oreille oreilles" },
      ...{ hair: "cheveux cheveu meche tresse natte criniere", upper: "haut superieur" },
      ...{ fore: "avant av", hind: "arriere ar" },
      ...{ face: "oeil yeux paupiere bouche langue nez dent levre joue sourcil", lower: "bas inferieur" },
      ...{ loose: "sangle manteau jupe echarpe ceinture ruban robe", fin: "nageoire" },
    },
  ),
  // German.
  language(
    { l: "left", r: "right" },
    {
      ...{ left: "links linke linker linkes li", right: "rechts rechte rechter rechtes re", root: "wurzel" },
      ...{ pelvis: "becken", hip: "hufte huefte huften hueften", shoulder: "schulter", arm: "arm" },
      ...{ spine: "wirbel wirbelsaule wirbelsaeule rucken ruecken bauch taille rumpf" },
      ...{ chest: "brust brustkorb widerrist", neck: "hals nacken genick", head: "kopf schadel schaedel" },
      ...{ jaw: "kiefer unterkiefer", collar: "schlusselbein schluesselbein schulterblatt" },
      ...{ upperArm: "oberarm", forearm: "unterarm ellbogen ellenbogen", hand: "hand handgelenk" },
      ...{
        finger: "daumen zeigefinger mittelfinger ringfinger",
        thigh: "oberschenkel schenkel",
        leg: "bein",
      },
      ...{ shin: "unterschenkel knie wade schienbein", foot: "fuss knochel knoechel sprunggelenk huf pfote" },
      ...{
        toes: "zeh zehe zehen",
        tail: "schwanz schweif rute",
        wing: "flugel fluegel federn",
        ears: "ohr ohren",
      },
      ...{ hair: "haar haare zopf mahne maehne locke", upper: "ober obere", lower: "unter untere" },
      ...{
        fore: "vorder vorne v",
        face: "auge augen mund zunge nase zahn lippe wange braue schnauze",
        fin: "flosse",
      },
      ...{ loose: "mantel rock umhang schal gurtel guertel riemen schleife kleid" },
    },
  ),
  // Spanish.
  language(
    { i: "left", d: "right" },
    {
      ...{ left: "izq izquierda izquierdo", right: "der dcha dcho derecha derecho", root: "raiz" },
      ...{
        pelvis: "cadera caderas",
        spine: "columna vertebra espalda vientre cintura lomo",
        chest: "pecho torso",
      },
      ...{ neck: "cuello nuca", head: "cabeza craneo", jaw: "mandibula quijada", shoulder: "hombro" },
      ...{ collar: "clavicula escapula", arm: "brazo", forearm: "antebrazo codo", hand: "mano muneca palma" },
      ...{ fingerOrOrder: "dedo dedos indice anular menique", finger: "pulgar", thigh: "muslo" },
      ...{
        leg: "pierna",
        shin: "pantorrilla rodilla espinilla",
        foot: "pie tobillo pata corvejon casco",
        tail: "cola rabo",
      },
      ...{ wing: "ala alas plumas", ears: "oreja orejas", hair: "pelo cabello trenza coleta melena crin" },
      ...{ face: "ojo ojos parpado boca lengua nariz diente labio mejilla ceja hocico", upper: "superior" },
      ...{ lower: "inferior", fore: "delantero delantera", fin: "aleta" },
      ...{ loose: "falda abrigo cinta bufanda correa cinturon capa" },
    },
  ),
  // Italian.
  language(
    { s: "left", d: "right" },
    {
      ...{ left: "sinistra sinistro sx", right: "destra destro dx", root: "radice", pelvis: "bacino" },
      ...{ hip: "anca anche", spine: "colonna vertebra schiena dorso ventre addome vita tronco" },
      ...{
        chest: "petto torace garrese",
        neck: "collo nuca",
        head: "testa cranio",
        jaw: "mandibola mascella",
      },
      ...{ collar: "clavicola scapola", shoulder: "spalla", arm: "braccio", forearm: "avambraccio gomito" },
      ...{ hand: "mano polso", fingerOrOrder: "dito dita indice anulare mignolo", finger: "pollice" },
      ...{
        thigh: "coscia",
        leg: "gamba",
        shin: "polpaccio ginocchio stinco",
        foot: "piede caviglia zampa zoccolo garretto",
      },
      ...{ tail: "coda", wing: "ala ali piume", ears: "orecchio orecchie orecchia" },
      ...{ hair: "capelli treccia criniera ciuffo", face: "occhio bocca lingua naso dente labbro" },
      ...{ upper: "superiore", lower: "inferiore", fore: "anteriore", fin: "pinna" },
      ...{ loose: "mantello gonna sciarpa cintura nastro" },
    },
  ),
  // Portuguese.
  language(
    { e: "left", d: "right" },
    {
      ...{
        left: "esquerda esquerdo esq",
        right: "direita direito dta",
        root: "raiz",
        pelvis: "quadril bacia",
      },
      ...{ spine: "coluna vertebra costas barriga cintura tronco", chest: "peito", neck: "pescoco nuca" },
      ...{ head: "cabeca", jaw: "mandibula", collar: "clavicula", shoulder: "ombro", arm: "braco" },
      ...{ forearm: "antebraco cotovelo", hand: "mao pulso", fingerOrOrder: "dedo dedos indicador anelar" },
      ...{ finger: "polegar mindinho", thigh: "coxa", leg: "perna", shin: "canela panturrilha joelho" },
      ...{ foot: "pe tornozelo pata", tail: "cauda rabo", wing: "asa asas", ears: "orelha orelhas" },
      ...{ hair: "cabelo tranca juba", face: "olho boca lingua nariz dente labio", upper: "superior" },
      ...{ lower: "inferior", fore: "dianteiro dianteira", loose: "saia capa cachecol cinto fita" },
    },
  ),
  // Dutch.
  language(
    { l: "left", r: "right" },
    {
      ...{
        left: "links linker",
        right: "rechts rechter",
        root: "wortel",
        pelvis: "bekken heupen",
        hip: "heup",
      },
      ...{ spine: "wervel ruggengraat rug buik romp", chest: "borst borstkas", neck: "nek hals" },
      ...{ head: "hoofd schedel", jaw: "kaak", collar: "sleutelbeen schouderblad", shoulder: "schouder" },
      ...{ upperArm: "bovenarm", forearm: "onderarm elleboog", hand: "hand pols" },
      ...{
        finger: "vinger duim wijsvinger middelvinger ringvinger pink",
        thigh: "dij bovenbeen",
        leg: "been",
      },
      ...{ shin: "onderbeen knie kuit scheen", foot: "voet enkel hoef poot", toes: "teen tenen" },
      ...{
        tail: "staart",
        wing: "vleugel veren",
        ears: "oor oren",
        hair: "haar vlecht manen",
        upper: "boven",
      },
      ...{
        face: "oog mond tong neus tand lip wang",
        lower: "onder",
        fore: "voor",
        loose: "mantel rok sjaal riem",
      },
    },
  ),
  // Polish.
  language(
    { l: "left", p: "right" },
    {
      ...{ left: "lewy lewa lewe", right: "prawy prawa prawe", root: "korzen", pelvis: "miednica biodra" },
      ...{
        hip: "biodro",
        spine: "kregoslup brzuch plecy tulow talia",
        chest: "klatka piers",
        neck: "szyja kark",
      },
      ...{ head: "glowa czaszka", jaw: "szczeka zuchwa", collar: "obojczyk lopatka", shoulder: "bark" },
      ...{ arm: "ramie", forearm: "przedramie lokiec", hand: "dlon reka nadgarstek", finger: "kciuk" },
      ...{ fingerOrOrder: "palec palce wskazujacy srodkowy serdeczny", thigh: "udo", leg: "noga" },
      ...{ shin: "lydka kolano golen podudzie", foot: "stopa kostka skokowy kopyto lapa", tail: "ogon" },
      ...{ wing: "skrzydlo piora", ears: "ucho uszy", hair: "wlosy warkocz grzywa", upper: "gorny" },
      ...{ face: "oko oczy usta jezyk nos zab policzek brew", lower: "dolny", fore: "przedni" },
      ...{ loose: "plaszcz spodnica szalik pas wstazka", fin: "pletwa" },
    },
  ),
  // Swedish, Danish, Norwegian.
  language(
    { v: "left", h: "right" },
    {
      ...{
        left: "vanster venstre",
        right: "hoger hojre hoyre",
        root: "rot",
        hip: "hoft hofte",
        pelvis: "backen",
      },
      ...{ spine: "rygg ryg mage", chest: "brost bryst", neck: "hals nacke", head: "huvud hoved hode" },
      ...{ jaw: "kake", collar: "nyckelben", shoulder: "axel skulder", upperArm: "overarm", arm: "arm" },
      ...{ forearm: "underarm armbage albue", hand: "hand handled", finger: "tumme pekfinger" },
      ...{
        thigh: "lar laar",
        leg: "ben",
        shin: "smalben vad kna",
        foot: "fot fod ankel tass",
        tail: "svans hale",
      },
      ...{ wing: "vinge", ears: "ora ore", face: "oga ogon mun tunga nasa tand", loose: "kjol kappa balte" },
    },
  ),
  // Japanese in Latin letters.
  language(
    { h: "left", m: "right" },
    {
      ...{ left: "hidari", right: "migi", pelvis: "koshi", spine: "sebone senaka", chest: "mune" },
      ...{ neck: "kubi", head: "atama", jaw: "ago", collar: "sakotsu", shoulder: "kata", arm: "ude" },
      ...{ upperArm: "joowan jouwan", forearm: "hiji zenwan" },
      ...{
        hand: "te tekubi maeashi",
        finger: "yubi oyayubi",
        thigh: "momo",
        leg: "ashi",
        shin: "hiza sune",
        foot: "ashikubi kakato atoashi",
        toes: "tsumasaki",
      },
      ...{ tail: "shippo", wing: "hane", ears: "mimi", hair: "kami", face: "hana kuchi me" },
    },
  ),
];

/** Names of parts that tell a language; one or two words may be like those of another by chance. */
const telling = 3;

/**
 * The language, besides English, in which most of a rig's parts are named.
 * @param words words of the rig's names, lower case and plain
 * @param isKnown whether a word is one that is read anyway
 * @returns null where fewer than three different words are of one language
 */
export function languageOf(words: Iterable<string>, isKnown: (word: string) => boolean): Language | null {
  const counts = new Array<number>(languages.length).fill(0);
  for (const word of new Set(words)) {
    if (isKnown(word)) continue;
    languages.forEach((one, i) => {
      if (one.words.has(word)) counts[i]++;
    });
  }
  const most = Math.max(...counts);
  return most < telling ? null : languages[counts.indexOf(most)];
}

/** A word without accents. */
export function plainWord(word: string): string {
  return word
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replaceAll("ł", "l")
    .replaceAll("ß", "ss")
    .replaceAll("ø", "o");
}
