export * from "./document/model.ts";
