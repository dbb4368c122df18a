import { describe, expect, it } from "vitest";
import { figuresOf } from "../../../packages/core/rig/body.ts";
import { languageOfNames, readName } from "../../../packages/core/rig/parts-by-name.ts";
import { bipedLines, hidden, nameless, nodesFrom, partIds, studyOf } from "./body-study.ts";

/** Words of dictionaries: common knowledge. */
const german = ["Becken", "Brust", "Hals", "Kopf", "Oberarm_li", "Unterarm_li", "Hand_li", "Schwanz_1"];
const french = ["bassin", "poitrine", "tête", "bras_g", "avant_bras_g", "main_g", "queue_1"];
const dutch = ["bekken", "schoft", "nek", "kop", "schouder_links", "pols_links", "dij_links", "hiel_links"];

describe("names in other languages", () => {
  it.each([
    [german, "Kopf", null, "head"],
    [german, "Oberarm_li", "left", "upperArm"],
    [german, "Schwanz_1", null, "tail"],
    [german, "fuß.re", "right", "foot"],
    [french, "tête", null, "head"],
    [french, "avant_bras_g", "left", "forearm"],
    [french, "main_d", "right", "hand"],
    // A rig may mix languages: the letter of a side is that of the others.
    [french, "shank_g", "left", "shin"],
    [["cadera", "pecho", "cabeza", "brazo_izq"], "antebrazo_der", "right", "forearm"],
    [["biodra", "szyja", "głowa", "udo_lewy"], "przedramie_prawy", "right", "forearm"],
    [["anca", "petto", "testa", "coscia_sx"], "ginocchio_dx", "right", "shin"],
    [["panev", "hrud", "krk", "stehno_l"], "predlokti_p", "right", "forearm"],
    [["medence", "nyak", "fej", "comb_b"], "felkar_j", "right", "upperArm"],
    [["lantio", "kaula", "pää", "reisi_vas"], "käsi_oik", "right", "hand"],
    [["leğen", "omurga", "boyun", "uyluk_sol"], "baldır_sağ", "right", "shin"],
    [["panggul", "leher", "kepala", "paha_kiri"], "betis_kanan", "right", "shin"],
    // Words that are written as one.
    [dutch, "voorteen_links", "left", "finger"],
    [dutch, "achterteen_links", "left", "toes"],
    [[...german, "Kruppe"], "Hinterpfote_re", "right", "foot"],
    [["lantio", "kaula", "pää", "reisi_vas"], "etutassu_oik", "right", "hand"],
  ])("of %j, %s", (ids, id, side, word) => {
    expect(readName(id, languageOfNames(ids))).toMatchObject({ side, word });
  });

  it("takes no word by chance for one of another language", () => {
    const ids = ["Main", "mimi_hips", "mimi_head", "kata_arm_l", "pink_hand_l"];
    expect(languageOfNames(ids)).toBeNull();
    expect(readName("Main").word).toBeNull();
    // English goes before what is like a word of another language.
    expect(readName("main_arm_l", languageOfNames(french))).toMatchObject({ word: "arm", side: "left" });
  });

  it("does not take hair with a name in an unknown language for the head", () => {
    const hair = ["a1", "a2", "a3", "a4"].map((id, i, all) =>
      i === 0 ? `${id} < head @ 0 0.2 0` : `${id} < ${all[i - 1]} @ 0 -0.1 -0.02`,
    );
    const lines = `${bipedLines.trim().replace(/\ncrown.*/, "")}\n${hair.join("\n")}`;
    const parts = partIds(studyOf(nodesFrom(nameless(lines))));
    expect(parts["head"]).toBe(hidden(lines, "head"));
    expect(parts["neck"]).toBe(hidden(lines, "neck"));
  });
});

describe("bodies that are no people", () => {
  const limbs = (lines: string) => {
    const study = studyOf(nodesFrom(lines));
    return { ...partIds(study), kind: figuresOf(study)[0].kind };
  };

  it("takes an arm on which feathers hang for a wing, and a leg above a shank for a shin", () => {
    const side = (letter: string, sign: number) => `
arm_${letter} < chest @ ${sign} 2 0
forearm_${letter} < arm_${letter} @ ${3 * sign} 0 0
hand_${letter} < forearm_${letter} @ ${3 * sign} 0 0
feathers_${letter} < hand_${letter} @ ${2 * sign} 0 0
thigh_${letter} < body @ ${sign} 0 0
leg_${letter} < thigh_${letter} @ 0 -2 1
shank_${letter} < leg_${letter} @ 0 -2 -2
foot_${letter} < shank_${letter} @ 0 -2 1`;
    expect(
      limbs(`body @ 0 6 0\nchest < body @ 0 1 2\nhead < chest @ 0 2 2${side("l", 1)}${side("r", -1)}`),
    ).toMatchObject({
      kind: "winged",
      leftWing: "arm_l forearm_l hand_l feathers_l",
      leftThigh: "thigh_l",
      leftShin: "leg_l",
      leftFoot: "shank_l",
      leftToes: "foot_l",
    });
  });

  it("takes none of many legs for that of a biped, and the thorax that carries them for the root", () => {
    const legs = ["l", "r"].flatMap((side, s) =>
      [1, 2, 3].map((n) => {
        const sign = s === 0 ? 1 : -1;
        return `femur_${side}${n} < thorax @ ${sign} 0 ${n}
tibia_${side}${n} < femur_${side}${n} @ ${3 * sign} 1 0
foot_${side}${n} < tibia_${side}${n} @ ${2 * sign} -4 0`;
      }),
    );
    const parts = limbs(`thorax @ 0 3 0\nhead < thorax @ 0 0 4\n${legs.join("\n")}`);
    expect(parts).toMatchObject({ kind: "other", root: "thorax", head: "head" });
    expect(parts).not.toHaveProperty("leftThigh");
  });

  it("knows the paws of one on four legs, and that it is no human", () => {
    const four = ["l", "r"].map((side, s) => {
      const sign = s === 0 ? 1 : -1;
      return `upper_arm_${side} < chest @ ${sign} 0 0
forearm_${side} < upper_arm_${side} @ 0 -3 0
hand_${side} < forearm_${side} @ 0 -3 0
fore_paw_${side} < hand_${side} @ 0 -1 1
thigh_${side} < pelvis @ ${sign} 0 0
shin_${side} < thigh_${side} @ 0 -3 1
hock_${side} < shin_${side} @ 0 -2 -1
hind_paw_${side} < hock_${side} @ 0 -2 1`;
    });
    const parts = limbs(`pelvis @ 0 7 0\nchest < pelvis @ 0 0 6\nhead < chest @ 0 2 3\n${four.join("\n")}`);
    expect(parts).toMatchObject({
      kind: "other",
      leftHand: "hand_l",
      leftFingers: "fore_paw_l",
      leftFoot: "hock_l",
      leftToes: "hind_paw_l",
    });
  });

  it("knows what is in front and behind by where it hangs, in languages that call both paws a foot", () => {
    const horse = ["g", "d"].map((side, s) => {
      const sign = s === 0 ? 1 : -1;
      return `bras_${side} < garrot @ ${sign} 0 0
avantbras_${side} < bras_${side} @ 0 -3 -1
canon_${side} < avantbras_${side} @ 0 -2 0
sabot_av_${side} < canon_${side} @ 0 -2 0
cuisse_${side} < croupe @ ${sign} 0 0
jambe_${side} < cuisse_${side} @ 0 -3 1
jarret_${side} < jambe_${side} @ 0 -2 -1
sabot_ar_${side} < jarret_${side} @ 0 -2 0`;
    });
    const trunk =
      "croupe @ 0 7 0\ngarrot < croupe @ 0 0 6\nencolure < garrot @ 0 2 2\ntete < encolure @ 0 2 2";
    expect(limbs(`${trunk}\n${horse.join("\n")}`)).toMatchObject({
      kind: "other",
      neck: "encolure",
      leftUpperArm: "bras_g",
      leftForearm: "avantbras_g",
      // No name that is known stands between forearm and hoof: the joint there is the wrist.
      leftHand: "canon_g",
      leftFingers: "sabot_av_g",
      leftShin: "jambe_g",
      leftFoot: "jarret_g",
      leftToes: "sabot_ar_g",
    });
  });

  it("takes a joint that shares out the twist of a fore leg for no wrist, and a rod in a hand for no tail", () => {
    const dog = ["li", "re"].map((side, s) => {
      const sign = s === 0 ? 1 : -1;
      return `Oberarm_${side} < Brust @ ${sign} 0 0
Unterarm_${side} < Oberarm_${side} @ 0 -3 -1
Unterarm_twist_${side} < Unterarm_${side} @ 0 -1 0
VPfote_${side} < Unterarm_twist_${side} @ 0 -3 0
Schenkel_${side} < Becken @ ${sign} 0 0
Schienbein_${side} < Schenkel_${side} @ 0 -3 1
HPfote_${side} < Schienbein_${side} @ 0 -4 -1`;
    });
    const trunk = "Becken @ 0 7 0\nBrust < Becken @ 0 0 6\nKopf < Brust @ 0 2 2\nRute_0 < Becken @ 0 0 -2";
    const rod = "Rute_9 < VPfote_li @ 0 0 1";
    expect(limbs(`${trunk}\n${dog.join("\n")}\n${rod}`)).toMatchObject({
      kind: "other",
      tail: "Rute_0",
      leftHand: "VPfote_li",
      leftFoot: "HPfote_li",
    });
  });

  it("takes no ribbon for a shoulder and no fin for a chest", () => {
    expect(readName("ribbon_shoulder_1_r").word).toBeNull();
    expect(readName("BackFin").word).toBeNull();
    expect(readName("tail_fin").word).toBe("tail");
    expect(readName("back_leg_l")).toMatchObject({ word: "leg", side: "left" });
  });
});
