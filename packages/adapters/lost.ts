import type { Shot } from "@keyside/core";

/** Parts of a document that no other format here has room for, by their names in it. */
const parts = {
  figures: "figures and their parts",
  surfaces: "surfaces",
  contacts: "contacts",
  props: "props",
  waivers: "waivers",
  sounds: "sounds",
  gazes: "gazes",
  surroundings: "surroundings",
  propulsors: "propulsors",
  stages: "stages of work",
} as const;

/** A sentence of the parts of a document that are left out, none where it has none of them. */
export function lostParts({ header }: Shot, others: Readonly<Record<string, string>> = {}): string[] {
  const named = Object.entries({ ...parts, ...others }).filter(([name]) => {
    const value = (header as unknown as Record<string, unknown>)[name];
    return value !== undefined && !(Array.isArray(value) && value.length === 0);
  });
  const has = (isThere: boolean, words: string) => (isThere ? [words] : []);
  const words = [
    ...named.map(([, words]) => words),
    ...has(
      header.nodes.some(({ shapes = [] }) => shapes.length > 0),
      "shapes of nodes",
    ),
    ...has(
      header.nodes.some(({ colour }) => colour !== undefined),
      "colours of nodes",
    ),
    ...has(
      header.nodes.some(({ visible }) => visible !== undefined),
      "when nodes are visible",
    ),
  ];
  return words.length === 0 ? [] : [`Left out: ${words.join(", ")}.`];
}

/** A sentence that tells how many of something there are; none where there are none. */
export function countedLoss(count: number, one: string, many: string): string[] {
  return count === 0 ? [] : [count === 1 ? one : many.replace("N", String(count))];
}
