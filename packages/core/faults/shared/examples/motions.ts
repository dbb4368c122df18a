/** What examples are made of: documents of a point, a chain, a biped, a bird; walks and jumps. */
export * from "./birds.ts";
export * from "./documents.ts";
export * from "./gaits.ts";
export * from "./legs.ts";
