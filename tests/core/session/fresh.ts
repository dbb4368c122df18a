import { isDeepStrictEqual } from "node:util";
import { expect } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { ShotSession } from "../../../packages/core/session/shot-session.ts";
import type { ResolvedSettings } from "../../../packages/core/settings/settings.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";

/** A session in which whatever is kept of a measure's work is done again, and must come out the same. */
export function audited(shot: Shot, settings: ResolvedSettings): ShotSession {
  const session = new ShotSession(shot, settings);
  session.study.memo.audit = (kept, now) => {
    if (!isDeepStrictEqual(kept, now)) expect(kept).toStrictEqual(now);
  };
  return session;
}

/** All that a session knows, notes and what they were computed from, is what a fresh study of its shot comes to. */
export function expectFresh(session: ShotSession, settings: ResolvedSettings): void {
  const fresh = studyOf(session.shot, settings);
  expect(session.notes).toStrictEqual(notesOf(fresh));
  for (const [definition, key, value] of session.study.memo.valuesNow()) {
    if (definition.name === "chosen settings") continue;
    const anew = fresh.memo.read<unknown, unknown, unknown>(fresh, definition as never, key);
    if (!isAlike(value, anew))
      expect({ [`${definition.name} ${key}`]: value }).toStrictEqual({ [`${definition.name} ${key}`]: anew });
  }
}

/** Whether two values hold the same to the last bit; what computes is not looked into. */
function isAlike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b) || (typeof a === "function" && typeof b === "function")) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (a instanceof Map && b instanceof Map) return isAlike([...a], [...b]);
  if (a instanceof Set && b instanceof Set) return isAlike([...a], [...b]);
  const names = Object.keys(a);
  return (
    names.length === Object.keys(b).length &&
    names.every((name) => isAlike((a as Record<string, unknown>)[name], (b as Record<string, unknown>)[name]))
  );
}
