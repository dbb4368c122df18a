import { type Language, language } from "./language.ts";

/** French, Spanish, Italian, Portuguese. */
export const romance: readonly Language[] = [
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
  // Spanish.
  language(
    { i: "left", d: "right" },
    {
      ...{ left: "izq izquierda izquierdo", right: "der dcha dcho derecha derecho", root: "raiz" },
      ...{
        pelvis: "cadera caderas grupa",
        spine: "columna vertebra espalda vientre cintura lomo",
        chest: "pecho torso cruz",
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
      ...{ lower: "inferior", fore: "delantero delantera", hind: "trasero trasera tras", fin: "aleta" },
      ...{ loose: "falda abrigo cinta bufanda correa cinturon capa" },
    },
  ),
  // Italian.
  language(
    { s: "left", d: "right" },
    {
      ...{ left: "sinistra sinistro sx", right: "destra destro dx", root: "radice", pelvis: "bacino groppa" },
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
      ...{
        upper: "superiore",
        lower: "inferiore",
        fore: "anteriore ant",
        hind: "posteriore post",
        fin: "pinna",
      },
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
      ...{
        spine: "coluna vertebra costas barriga cintura tronco",
        chest: "peito cernelha",
        neck: "pescoco nuca",
      },
      ...{ head: "cabeca", jaw: "mandibula", collar: "clavicula", shoulder: "ombro", arm: "braco" },
      ...{ forearm: "antebraco cotovelo", hand: "mao pulso", fingerOrOrder: "dedo dedos indicador anelar" },
      ...{ finger: "polegar mindinho", thigh: "coxa", leg: "perna", shin: "canela panturrilha joelho" },
      ...{
        foot: "pe tornozelo pata casco jarrete",
        tail: "cauda rabo",
        wing: "asa asas",
        ears: "orelha orelhas",
      },
      ...{ hair: "cabelo tranca juba", face: "olho boca lingua nariz dente labio", upper: "superior" },
      ...{
        lower: "inferior",
        fore: "dianteiro dianteira",
        hind: "traseiro traseira",
        fin: "barbatana nadadeira",
        loose: "saia capa cachecol cinto fita",
      },
    },
  ),
];
