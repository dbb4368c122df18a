/** What `keyside review` can do. */
export const reviewVerbs = ["list", "add", "decide", "mark", "export", "import", "carry", "merge"] as const;
export type ReviewVerb = (typeof reviewVerbs)[number];
