/** Bipeds in motion: legs by inverse kinematics, and the jumps and walks that are made with them. */
export * from "../../packages/core/faults/shared/examples/gaits.ts";
export * from "../../packages/core/faults/shared/examples/legs.ts";
