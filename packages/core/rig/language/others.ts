import { type Language, language } from "./language.ts";

/** Polish, Czech, Hungarian, Finnish, Turkish, Indonesian, Japanese in Latin letters. */
export const others: readonly Language[] = [
  // Polish.
  language(
    { l: "left", p: "right" },
    {
      ...{
        left: "lewy lewa lewe",
        right: "prawy prawa prawe",
        root: "korzen",
        pelvis: "miednica biodra zad",
      },
      ...{
        hip: "biodro",
        spine: "kregoslup brzuch plecy tulow talia",
        chest: "klatka piers klab",
        neck: "szyja kark",
      },
      ...{ head: "glowa czaszka", jaw: "szczeka zuchwa", collar: "obojczyk lopatka", shoulder: "bark" },
      ...{ arm: "ramie", forearm: "przedramie lokiec", hand: "dlon reka nadgarstek", finger: "kciuk" },
      ...{ fingerOrOrder: "palec palce wskazujacy srodkowy serdeczny", thigh: "udo", leg: "noga" },
      ...{ shin: "lydka kolano golen podudzie", foot: "stopa kostka skokowy kopyto lapa", tail: "ogon" },
      ...{ wing: "skrzydlo piora", ears: "ucho uszy", hair: "wlosy warkocz grzywa", upper: "gorny" },
      ...{
        face: "oko oczy usta jezyk nos zab policzek brew",
        lower: "dolny",
        fore: "przedni przednia",
        hind: "tylny tylna",
      },
      ...{ loose: "plaszcz spodnica szalik pas wstazka", fin: "pletwa" },
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
  // Czech, Slovak.
  language(
    { l: "left", p: "right" },
    {
      ...{
        left: "levy leva leve levo vlevo lavy lava",
        right: "pravy prava prave pravo vpravo",
        root: "koren",
      },
      ...{ pelvis: "panev panva kriz", hip: "kycel bok", chest: "hrud hrudnik kohoutek", neck: "krk sije" },
      ...{ spine: "pater patere obratel zada chrbat bricho trup pas", head: "hlava lebka", jaw: "celist" },
      ...{ collar: "klicni lopatka", shoulder: "rameno", arm: "paze", forearm: "predlokti loket" },
      ...{ hand: "ruka zapesti dlan", finger: "palec", fingerOrOrder: "prst prsty ukazovak prostrednik" },
      ...{
        thigh: "stehno",
        leg: "noha",
        shin: "lytko holen koleno berec",
        tail: "ocas",
        wing: "kridlo pera",
      },
      ...{ foot: "chodidlo kotnik kopyto tlapa tlapka hlezno", ears: "ucho usi", hair: "vlasy cop hriva" },
      ...{ face: "oko oci usta jazyk nos zub ret tvar", upper: "horni", lower: "dolni", fore: "predni" },
      ...{ hind: "zadni", fin: "ploutev", loose: "plast sukne sala pasek" },
    },
  ),
  // Hungarian.
  language(
    { b: "left", j: "right" },
    {
      ...{
        left: "bal",
        right: "jobb",
        root: "gyoker",
        pelvis: "medence far",
        hip: "csipo",
        chest: "mellkas mell mar",
      },
      ...{ spine: "gerinc csigolya hat derek has torzs", neck: "nyak tarko", head: "fej koponya" },
      ...{ jaw: "allkapocs", collar: "kulcscsont lapocka", shoulder: "vall", upperArm: "felkar", arm: "kar" },
      ...{ forearm: "alkar konyok", hand: "kez csuklo tenyer", finger: "huvelykujj mutatoujj" },
      ...{ fingerOrOrder: "ujj ujjak", thigh: "comb", leg: "lab", shin: "labszar terd vadli sipcsont" },
      ...{
        foot: "boka labfej pata mancs csank",
        toes: "labujj labujjak",
        tail: "farok",
        wing: "szarny toll",
      },
      ...{ ears: "ful fulek", hair: "haj copf soreny", face: "szem szaj nyelv orr fog ajak arc szemoldok" },
      ...{ upper: "felso", lower: "also", fore: "elso mellso", hind: "hatso", fin: "uszony" },
      ...{ loose: "kabat szoknya ov sal" },
    },
  ),
  // Finnish.
  language(
    { v: "left", o: "right" },
    {
      ...{
        left: "vasen vasemman vas",
        right: "oikea oikean oik",
        root: "juuri",
        pelvis: "lantio",
        hip: "lonkka",
      },
      ...{ spine: "selka selkaranka nikama vatsa vyotaro vartalo lanne", chest: "rinta rintakeha saka" },
      ...{ neck: "kaula niska", head: "paa kallo", jaw: "leuka", collar: "solisluu lapa lapaluu" },
      ...{
        shoulder: "olkapaa hartia",
        upperArm: "olkavarsi",
        arm: "kasivarsi",
        forearm: "kyynarvarsi kyynarpaa kyynar",
      },
      ...{ hand: "kasi ranne kammen", finger: "peukalo", fingerOrOrder: "sormi sormet etusormi keskisormi" },
      ...{
        thigh: "reisi",
        leg: "jalka",
        shin: "saari polvi pohje",
        foot: "jalkatera nilkka tassu kavio kinner",
      },
      ...{ toes: "varvas varpaat", tail: "hanta pyrsto", wing: "siipi siivet", ears: "korva korvat" },
      ...{ hair: "tukka hius hiukset letti harja", face: "silma suu kieli nena hammas huuli poski kuono" },
      ...{ upper: "yla", lower: "ala", fore: "etu", hind: "taka", fin: "eva", loose: "takki hame huivi vyo" },
    },
  ),
  // Turkish.
  language(
    { l: "left", r: "right" },
    {
      ...{
        left: "sol",
        right: "sag",
        root: "kok",
        pelvis: "legen sagri",
        hip: "kalca",
        chest: "gogus gogsu cidago",
      },
      ...{ spine: "omurga omur bel karin govde sirt", neck: "boyun ense", head: "kafa bas kafatasi" },
      ...{ jaw: "cene", collar: "kurek", shoulder: "omuz", arm: "kol", forearm: "onkol dirsek" },
      ...{ hand: "el bilek avuc", finger: "parmak basparmak", thigh: "uyluk", leg: "bacak" },
      ...{ shin: "baldir incik diz", foot: "ayak topuk toynak pati", toes: "ayakparmagi", tail: "kuyruk" },
      ...{
        wing: "kanat tuy",
        ears: "kulak",
        hair: "sac orgu yele",
        face: "goz agiz dil burun dis dudak yanak",
      },
      ...{
        upper: "ust",
        lower: "alt",
        fore: "on",
        hind: "arka",
        fin: "yuzgec",
        loose: "etek ceket pelerin kemer atki",
      },
    },
  ),
  // Indonesian, Malay.
  language(
    {},
    {
      ...{
        left: "kiri",
        right: "kanan",
        root: "akar",
        pelvis: "panggul pinggul",
        chest: "dada",
        neck: "leher",
      },
      ...{ spine: "punggung pinggang perut", head: "kepala", jaw: "rahang", collar: "selangka belikat" },
      ...{ shoulder: "bahu", arm: "lengan", forearm: "siku hasta", hand: "tangan", finger: "jempol" },
      ...{ fingerOrOrder: "jari telunjuk kelingking", thigh: "paha", leg: "tungkai", shin: "betis lutut" },
      ...{ foot: "kaki tumit", toes: "cakar", tail: "ekor", wing: "sayap bulu", ears: "telinga kuping" },
      ...{ hair: "rambut kepang surai", face: "mata mulut lidah hidung gigi bibir pipi alis", upper: "atas" },
      ...{
        lower: "bawah",
        fore: "depan",
        hind: "belakang",
        fin: "sirip",
        loose: "rok jubah sabuk selendang",
      },
    },
  ),
];
