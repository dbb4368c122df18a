import type { Shot } from "../document/model.ts";
import type { KeyMove } from "./moves.ts";

/** More moves than these are not told one by one in a title. */
const mostTold = 3;

/**
 * The title that a fix gives itself; where it names a node of which no key changes, what is done instead, most first and limbs
 * that go along last; of many moves which parts they move.
 */
export function titleOf(title: string, moves: readonly KeyMove[], { header }: Shot): string {
  const moved = new Set(moves.flatMap(({ nodes }) => nodes));
  const words = new Set(title.split(/[\s,]+/));
  const strange = header.nodes.filter(({ id }) => words.has(id) && !moved.has(id));
  if (strange.length === 0 || moves.length === 0) return title;
  const told = [...moves].sort(
    (a, b) => Number(a.kind === "limb") - Number(b.kind === "limb") || b.keys - a.keys,
  );
  if (moves.length <= mostTold || strange.length > 1) {
    return told
      .slice(0, 2)
      .map(({ text }) => text)
      .join("; ");
  }
  const [lead] = header.nodes.filter(({ id }) => moved.has(id));
  const others = moved.size === 1 ? "" : ` and ${moved.size - 1} other part${moved.size === 2 ? "" : "s"}`;
  return title
    .split(/(?<=[\s,])|(?=[\s,])/)
    .map((word) => (word === strange[0].id ? `${lead.id}${others}` : word))
    .join("");
}
