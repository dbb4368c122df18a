import { type Language, language } from "./language.ts";

/** German, Dutch, and the languages of Scandinavia. */
export const germanic: readonly Language[] = [
  // German.
  language(
    { l: "left", r: "right" },
    {
      ...{ left: "links linke linker linkes li", right: "rechts rechte rechter rechtes re", root: "wurzel" },
      ...{ pelvis: "becken kruppe", hip: "hufte huefte huften hueften", shoulder: "schulter", arm: "arm" },
      ...{ spine: "wirbel wirbelsaule wirbelsaeule rucken ruecken bauch taille rumpf lende lenden" },
      ...{ chest: "brust brustkorb widerrist", neck: "hals nacken genick", head: "kopf schadel schaedel" },
      ...{ jaw: "kiefer unterkiefer", collar: "schlusselbein schluesselbein schulterblatt" },
      ...{ upperArm: "oberarm", forearm: "unterarm ellbogen ellenbogen", hand: "hand handgelenk" },
      ...{
        finger: "finger daumen zeigefinger mittelfinger ringfinger",
        thigh: "oberschenkel schenkel",
        leg: "bein",
      },
      ...{
        shin: "unterschenkel knie wade schienbein",
        foot: "fuss knochel knoechel sprunggelenk fessel huf pfote tatze ferse",
      },
      ...{
        toes: "zeh zehe zehen",
        tail: "schwanz schweif rute",
        wing: "flugel fluegel federn",
        ears: "ohr ohren",
      },
      ...{ hair: "haar haare zopf mahne maehne locke", upper: "ober obere", lower: "unter untere" },
      ...{
        fore: "vorder vorne v",
        hind: "hinter hinten",
        face: "auge augen mund zunge nase zahn lippe wange braue schnauze",
        fin: "flosse",
      },
      ...{ loose: "mantel rock umhang schal gurtel guertel riemen schleife kleid" },
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
        pelvis: "bekken heupen kruis",
        hip: "heup",
      },
      ...{
        spine: "wervel ruggengraat rug buik romp lende lendenen",
        chest: "borst borstkas schoft",
        neck: "nek hals",
      },
      ...{ head: "hoofd kop schedel", jaw: "kaak", collar: "sleutelbeen schouderblad", shoulder: "schouder" },
      ...{ upperArm: "bovenarm", forearm: "onderarm elleboog", hand: "hand pols" },
      ...{
        finger: "vinger duim wijsvinger middelvinger ringvinger pink",
        thigh: "dij bovenbeen",
        leg: "been",
      },
      ...{
        shin: "onderbeen knie kuit scheen",
        foot: "voet enkel hoef poot hiel hak klauw",
        toes: "teen tenen",
      },
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
        hind: "achter",
        fin: "vin",
        loose: "mantel rok sjaal riem",
      },
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
      ...{ spine: "rygg ryg mage", chest: "brost bryst manke", neck: "hals nacke", head: "huvud hoved hode" },
      ...{ jaw: "kake", collar: "nyckelben", shoulder: "axel skulder", upperArm: "overarm", arm: "arm" },
      ...{ forearm: "underarm armbage albue", hand: "hand handled", finger: "tumme pekfinger" },
      ...{
        thigh: "lar laar",
        leg: "ben",
        shin: "smalben vad kna",
        foot: "fot fod ankel tass hov pote hase",
        tail: "svans hale",
      },
      ...{
        wing: "vinge",
        fore: "fram",
        hind: "bak bag",
        fin: "fena finne",
        ears: "ora ore",
        face: "oga ogon mun tunga nasa tand",
        loose: "kjol kappa balte",
      },
    },
  ),
];
