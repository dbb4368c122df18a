/** Bipeds in motion: legs by inverse kinematics, and the jumps and walks that are made with them. */
export * from "./gaits.ts";
export * from "./legs.ts";
