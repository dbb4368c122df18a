/** Versions of the host channel that are spoken, newest first. */
export const protocolVersions = [1] as const;

/** What is sent over the host channel; messages.ts holds what stands in each. */
export const methods = {
  hello: "keyside/hello",
  openShot: "keyside/openShot",
  replaceShot: "keyside/replaceShot",
  editKeys: "keyside/editKeys",
  configureShot: "keyside/configureShot",
  setWaivers: "keyside/setWaivers",
  setReview: "keyside/setReview",
  changeReview: "keyside/changeReview",
  closeShot: "keyside/closeShot",
  explain: "keyside/explain",
  fix: "keyside/fix",
  notesChanged: "keyside/notesChanged",
  notesSoFar: "keyside/notesSoFar",
  reviewChanged: "keyside/reviewChanged",
  judgingFailed: "keyside/judgingFailed",
} as const;

/** Why a request was refused: the code of the error, and `data.reason`. */
export const refusals = {
  "hello-first": { code: 1, when: "The connection was used before `keyside/hello`." },
  "unsupported-protocol": {
    code: 2,
    when: "None of the offered versions is spoken; `data.protocols` lists those that are.",
  },
  "wrong-token": {
    code: 3,
    when: "The first message on a socket did not carry the feed's token; the connection is closed.",
  },
  "unknown-shot": { code: 4, when: "No shot of this name is open; `data.open` lists those that are." },
  "shot-is-open": {
    code: 5,
    when: "A shot of this name is open already: replace it, or close it first; `data.revision` is its revision.",
  },
  "stale-revision": {
    code: 6,
    when: "The revision is not the one after the shot's own, which is `data.revision`; nothing was changed.",
  },
  "bad-edit": {
    code: 7,
    when: "At least one of the edits cannot be made, so none was; `data.problems` says which and why.",
  },
  "bad-document": { code: 8, when: "Nothing in the document can be judged; `data.problems` says why." },
  "bad-settings": { code: 9, when: "The settings cannot be used; the message says what is wrong." },
  "unknown-check": { code: 10, when: "There is no check of this name." },
  "unknown-note": { code: 11, when: "The shot has no note with this fingerprint." },
  "shot-has-changed": {
    code: 12,
    when: "The newest edit has not been judged yet; ask again after the next `keyside/notesChanged`.",
  },
  "too-many-clients": {
    code: 13,
    when: "The feed serves as many clients as `--max-clients` allows; the connection is closed.",
  },
  "bad-review": {
    code: 14,
    when: "At least one of the changes of the review cannot be made, so none was; `data.problems` says which and why.",
  },
} as const satisfies Readonly<Record<string, { readonly code: number; readonly when: string }>>;

export type Reason = keyof typeof refusals;
