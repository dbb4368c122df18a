/** Faults of paths. */
export {};
