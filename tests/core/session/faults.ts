import type { Shot } from "../../../packages/core/document/model.ts";
import type { Note } from "../../../packages/core/faults/note.ts";

/** Faults put into clean motion, by the fault bench's injectors; placements are drawn by a seed of the tests' own. */

// biome-ignore lint/suspicious/noExplicitAny: the bench is plain JavaScript
const load = (path: string): Promise<any> =>
  import(/* @vite-ignore */ new URL(`../../bench/faults/${path}`, import.meta.url).href);
const { injectors } = await load("injectors/index.mjs");
const { proceduralBases, notesIn, shotWith, settings } = await load("bases/index.mjs");
const { isTaken, scored } = await load("score.mjs");
const { randomFrom, seedOf } = await load("random.mjs");
const { checkNamed } = await import("../../../packages/core/index.ts");

export { settings };

/** A fault that its check finds. */
export interface Fault {
  readonly check: string;
  /** Name of the clean motion, and how it is keyed. */
  readonly base: string;
  readonly kind: "keyed" | "dense";
  readonly shot: Shot;
  readonly notes: readonly Note[];
  readonly note: Note;
}

export const faultChecks: readonly string[] = injectors.map(({ check }: { check: string }) => check);

const bases = proceduralBases([
  "walk",
  "jump",
  "crouch",
  "gestures 19",
  "pair",
  "jetty_0040",
  "gestures 31",
  "side steps 2",
  "level flight",
]);
const clean = new Map(bases.map((base: { shot: Shot }) => [base, notesIn(base.shot)]));

/** The first fault of a check, at its third or fourth strength, that can be put into motion keyed one way and is found. */
export function faultOf(check: string, kind: "keyed" | "dense", seed = 4): Fault | null {
  const injector = injectors.find((one: { check: string }) => one.check === check);
  const random = randomFrom(seed ^ seedOf(`${check} ${kind}`));
  if (!(injector.bases?.includes(kind) ?? true)) return null;
  const own = bases.filter((base: { kind: string }) => base.kind === kind && (injector.only?.(base) ?? true));
  const tries = injector.strengths
    .slice(2)
    .flatMap((strength: number) => own.map((base: unknown) => [base, strength]));
  for (const [base, strength] of tries) {
    for (let i = 0, tried = 0; i < 250 && tried < 6; i++) {
      const place = injector.place(base, random);
      if (place === null) continue;
      const injected = injector.inject(base, place, strength);
      if (injected === null || isTaken(check, clean.get(base), injected.truth)) continue;
      tried++;
      const shot: Shot = shotWith(injected.shot ?? base.shot, injected.curves ?? []);
      const notes: readonly Note[] = notesIn(shot);
      const { found, note } = scored(checkNamed(check), clean.get(base), notes, injected.truth);
      if (found && note !== undefined && note.check === check) {
        return { check, base: base.name, kind, shot, notes, note };
      }
    }
  }
  return null;
}
