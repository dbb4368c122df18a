import type { Problems } from "../problems.ts";
import type { GltfAnimation, GltfDocument } from "./document.ts";

/** What animations are called: by their names, those without one or with one that is taken by their numbers. */
export function animationNames(animations: readonly Pick<GltfAnimation, "name">[]): string[] {
  const taken = new Set<string>();
  return animations.map(({ name }, i) => {
    let own = name === undefined || name === "" ? `animation_${i}` : name;
    while (taken.has(own)) own = `${own}_${i}`;
    taken.add(own);
    return own;
  });
}

/**
 * The animation that is meant.
 * @param asked its name, or its number counted from 0; the first if left out
 * @returns its index; -1 where there is none, which is a problem only if it was asked for by name
 */
export function chosenAnimation(
  { animations = [] }: GltfDocument,
  asked: string | undefined,
  problems: Problems,
  remarks: string[],
): number {
  const names = animationNames(animations);
  if (asked === undefined) {
    if (names.length > 1) {
      remarks.push(
        `The file has ${names.length} animations, and the first, "${names[0]}", is judged; --animation NAME judges another one, --animation all judges each.`,
      );
    }
    return names.length === 0 ? -1 : 0;
  }
  const byName = names.indexOf(asked);
  if (byName >= 0) return byName;
  if (/^\d{1,9}$/.test(asked) && Number(asked) < names.length) return Number(asked);
  const others = names.length === 0 ? "it has none" : `it has ${shown(names)}`;
  problems.add("no-animation", `The file has no animation "${asked}"; ${others}.`, 0, 0, "animations");
  return -1;
}

/** Some names, and how many there are beyond them. */
function shown(names: readonly string[]): string {
  const first = names.slice(0, 12).map((name) => `"${name}"`);
  return names.length > 12 ? `${first.join(", ")} and ${names.length - 12} more` : first.join(", ");
}
