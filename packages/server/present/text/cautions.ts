import type { Check } from "@keyside/core";

/** A caution that is shown once wherever notes of the checks that it belongs to are shown. */
export interface Caution {
  readonly text: string;
  belongsTo(check: Pick<Check, "name" | "family">): boolean;
}

/** Checks outside the family of weight whose figures are about load, reach or speed. */
const physical = new Set(["over-speed", "leg-snap"]);

export const cautions: readonly Caution[] = [
  {
    text:
      "Figures of balance, load, reach and speed are about drawn or virtual figures. They are no guidance for real " +
      "stunts, lifting, sport or rehabilitation.",
    belongsTo: (check) => check.family === "weight" || physical.has(check.name),
  },
  {
    text:
      "Flicker screening is a first look: broadcasters' rules, local codes and a certified test decide whether a " +
      "picture is safe to show.",
    belongsTo: (check) => check.name === "flashing",
  },
];

/** The cautions that belong to at least one of these checks. */
export function cautionsFor(checks: Iterable<Pick<Check, "name" | "family">>): string[] {
  const all = [...checks];
  return cautions.filter((caution) => all.some((check) => caution.belongsTo(check))).map(({ text }) => text);
}
