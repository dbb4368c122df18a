import type { Finding } from "../../check.ts";

/** With numbers in working units. */
export interface FrozenPartFinding extends Finding {
  readonly numbers: {
    /**
     * A limb or a head that freezes, a limb that never moves, a chain that never moves while its like does, or the whole
     * trunk with the head that freezes.
     */
    readonly kind: "limb" | "left out" | "unlike" | "trunk";
    readonly frames: number;
    /** How fast it turned just before, rad/s. */
    readonly before: number;
    /** Most that a joint of what is left out turns against its parent, radians. */
    readonly turn: number;
    /** How far what goes on turns meanwhile, radians, and how far the hips travel, metres. */
    readonly carried: number;
    readonly travelled: number;
    /** Judged frames by which it should trail, and by what angle at most. */
    readonly lag: number;
    readonly amount: number;
    /** The last joint of what carries it; of a trunk the head, or what else ends it; of a chain its like. */
    readonly trunk: number;
    /** What it hangs on; of a trunk the limb that goes on. */
    readonly carrier: number;
  };
}
