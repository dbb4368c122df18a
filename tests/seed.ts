import fc from "fast-check";

/**
 * Property tests try the same inputs in each run, so that a change passes or fails for what it is and never by chance.
 * `KEYSIDE_SEED=random` looks at inputs that nobody saw, a number at those of a run that failed.
 */
const asked = process.env.KEYSIDE_SEED ?? "1";
if (asked !== "random") {
  const seed = Number(asked);
  if (!Number.isInteger(seed))
    throw new Error(`KEYSIDE_SEED is "${asked}": it is a whole number, or "random".`);
  fc.configureGlobal({ ...fc.readConfigureGlobal(), seed });
}
