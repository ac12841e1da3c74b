// The types of preact.mjs come with the package that it was taken from.
export * from "preact";
