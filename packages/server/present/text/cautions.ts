import type { Caution, Check } from "@keyside/core";

/** What each caution says; it is shown once wherever notes of its checks are shown. */
export const cautionTexts: Readonly<Record<Caution, string>> = {
  bodies:
    "Figures of balance, load, reach and speed are about drawn or virtual figures. They are no guidance for real " +
    "stunts, lifting, sport or rehabilitation.",
  flicker:
    "Flicker screening is a first look: broadcasters' rules, local codes and a certified test decide whether a " +
    "picture is safe to show.",
};

/** Cautions that belong to all checks of a family. */
const familyCautions: { readonly [family in Check["family"]]?: Caution } = { weight: "bodies" };

/** What the cautions say that belong to at least one of these checks. */
export function cautionsFor(checks: Iterable<Pick<Check, "family" | "caution">>): string[] {
  const due = new Set([...checks].flatMap(({ family, caution }) => [familyCautions[family], caution]));
  return (Object.keys(cautionTexts) as Caution[])
    .filter((caution) => due.has(caution))
    .map((caution) => cautionTexts[caution]);
}
