// What stands behind the page's questions: here the program at the other end of a connection to this
// machine. In the page that is one file, it is the program itself (src/web/page/send.mjs).

/** Resolves to the Response for `address` and a body of that type. Fails: AbortError, where `signal` says so; others where nothing answers. */
export function send(address, { type, body, signal }) {
  return fetch(address, { method: "POST", headers: { "Content-Type": type }, body, signal });
}

/** Where the picture of a construction lies. */
export const pictureOf = (construction) => `/picture/${encodeURIComponent(construction)}.svg`;
/** Where the drawing lies of how to measure in one of the ways to begin. */
export const drawingOf = (way) => `/measure-${way}.svg`;
