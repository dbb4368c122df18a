import { cleanArc } from "./kinds/clean-arc.ts";
import { easedMove } from "./kinds/eased-move.ts";
import { growingLag } from "./kinds/growing-lag.ts";
import { headFirstTurn } from "./kinds/head-first-turn.ts";
import { heldBalance } from "./kinds/held-balance.ts";
import { lateStops } from "./kinds/late-stops.ts";
import { livingHold } from "./kinds/living-hold.ts";
import { rootedFoot } from "./kinds/rooted-foot.ts";
import { softLanding } from "./kinds/soft-landing.ts";
import { trueFall } from "./kinds/true-fall.ts";
import { type StrengthName, strengthNames } from "./names.ts";
import type { StrengthKind } from "./strength.ts";

const byName = {
  "true-fall": trueFall,
  "soft-landing": softLanding,
  "held-balance": heldBalance,
  "rooted-foot": rootedFoot,
  "head-first-turn": headFirstTurn,
  "eased-move": easedMove,
  "clean-arc": cleanArc,
  "late-stops": lateStops,
  "growing-lag": growingLag,
  "living-hold": livingHold,
} as const satisfies Readonly<Record<StrengthName, unknown>>;

/** All kinds of what holds, in the order of their names' list. */
export const strengthKinds: readonly StrengthKind[] = strengthNames.map(
  (name) => byName[name] as unknown as StrengthKind,
);
