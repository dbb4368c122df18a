import { type Study, shotMeasure } from "../base/study.ts";
import { massSharesBelow } from "../motion/body/mass-centre.ts";
import { agreeing } from "../notes/agree.ts";
import { tidy } from "../notes/assemble.ts";
import { plainnessOf } from "../notes/rank.ts";
import { wordsFor } from "../notes/wording.ts";
import { figuresOf, statureOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { verdictOf } from "../rig/verdict.ts";
import { gridOf } from "../time/grid.ts";
import { strengthKinds } from "./registry.ts";
import { spoiledBy } from "./spoiled.ts";
import type { Held, Strength, StrengthKind } from "./strength.ts";

/** So many strengths of a shot are told at most. */
export const mostStrengths = 5;
/** So many of them are of one kind at most. */
const mostOfKind = 2;
/** What another one of the same kind, and another one on the same part, still counts (our choice). */
const againOfKind = 0.35;
const againOnPart = 0.5;

/**
 * What holds in a shot: at most five things that convince, the one that carries most of the picture first, spread over
 * kinds and parts. None lies on a span that a major note speaks against, by part, by what the part carries and by what
 * carries it.
 * @returns strengths in words, with frames in the numbering of the document
 */
export const strengthsOf = shotMeasure<readonly Strength[]>("strengths", (study) => {
  const left = allStrengthsOf(study).slice();
  const chosen: Strength[] = [];
  while (left.length > 0 && chosen.length < mostStrengths) {
    const worth = left.map((one) => worthBeside(one, chosen));
    const best = worth.indexOf(Math.max(...worth));
    if (!(worth[best] > 0)) break;
    chosen.push(...left.splice(best, 1));
  }
  return chosen.sort(inOrder);
});

/**
 * All that holds and that nothing speaks against, the one that carries most of the picture first.
 * @returns strengths in words, with frames in the numbering of the document
 */
export const allStrengthsOf = shotMeasure<readonly Strength[]>("all strengths", (study) => {
  const spoiled = figuresOf(study).map((_, figure) => spoiledBy(study, figure));
  return heldOf(study)
    .filter(({ figure, held }) => !spoiled[figure](held))
    .map(({ strength }) => strength)
    .sort(inOrder);
});

/** What a kind found of a figure, and how it is told. */
interface Found {
  readonly figure: number;
  readonly held: Held;
  readonly strength: Strength;
}

/** All that the kinds find, whatever notes speak against it. */
export const heldOf = shotMeasure<readonly Found[]>("held", (study) => {
  if (gridOf(study).count < 2) return [];
  const { unit, bodies } = verdictOf(study);
  return figuresOf(study).flatMap((_, figure) => {
    const isGuessed = { unit: unit === "guessed", body: bodies[figure]?.certainty === "guessed" };
    return strengthKinds
      .filter(({ hangsOn = [] }) => !hangsOn.some((what) => isGuessed[what]))
      .flatMap((kind) =>
        kind.find(study, figure).map((held) => ({ figure, held, strength: told(study, figure, kind, held) })),
      )
      .filter(({ strength }) => Number.isFinite(strength.measured.value));
  });
});

/** What carries most of the picture first; of equals the earlier one. */
function inOrder(a: Strength, b: Strength): number {
  return b.rank.plainness - a.rank.plainness || a.frames[0] - b.frames[0] || (a.node < b.node ? -1 : 1);
}

/** What one adds to those that are told already; 0 where its kind has been told often enough, or it says the same again. */
function worthBeside(one: Strength, chosen: readonly Strength[]): number {
  const near = chosen.filter(({ figure }) => figure === one.figure);
  const alike = chosen.filter(({ kind }) => kind === one.kind);
  // The same of the same part, or of another part at the same time, as of left and right, is one thing.
  const isSaid = near.some(
    ({ kind, node, frames }) =>
      kind === one.kind && (node === one.node || (frames[0] <= one.frames[1] && one.frames[0] <= frames[1])),
  );
  if (isSaid || alike.length >= mostOfKind) return 0;
  const onPart = near.filter(({ node }) => node === one.node);
  const atOnce = onPart.filter((other) => meets(other, one));
  return (
    one.rank.plainness *
    againOfKind ** alike.length *
    againOnPart ** onPart.length *
    againOnPart ** atOnce.length
  );
}

function meets(a: Strength, b: Strength): boolean {
  return a.frames[0] <= b.frames[1] && b.frames[0] <= a.frames[1];
}

function told(study: Study, figure: number, kind: StrengthKind, held: Held): Strength {
  const { node, nodes = [node], from, to, measured, within, size: metres } = held;
  const { frames, dt } = gridOf(study);
  const { ids } = rigOf(study);
  const { id, partOf } = figuresOf(study)[figure];
  const size = metres / statureOf(study, figure);
  const seconds = (to - from + 1) * dt;
  const part = partOf.get(node) ?? null;
  const shares = massSharesBelow(study, figure);
  const carried = Math.max(...nodes.map((own) => shares[own]));
  return {
    kind: kind.name,
    title: kind.title,
    figure: id,
    node: ids[node],
    seenAt: nodes.map((own) => ids[own]),
    frames: [tidy(frames[from]), tidy(frames[to])],
    message: agreeing(kind.word(held, wordsFor(study, held, []))),
    measured,
    within,
    rank: { plainness: plainnessOf({ size, seconds, excess: 1 }, carried), metres, size, seconds, part },
  };
}
