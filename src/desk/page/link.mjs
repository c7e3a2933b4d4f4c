// A job in an address: `#job=` and its text.

const kFragment = "#job=";

export function fragmentOf(text) {
  const letters = Array.from(new TextEncoder().encode(text), (byte) => String.fromCharCode(byte)).join("");
  return kFragment + btoa(letters).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

/** The text in `fragment`; null where it holds no job, undefined where the link is not whole. */
export function textOf(fragment) {
  if (!fragment.startsWith(kFragment)) return null;
  try {
    const letters = atob(fragment.slice(kFragment.length).replace(/-/g, "+").replace(/_/g, "/"));
    return new TextDecoder("utf-8", { fatal: true }).decode(Uint8Array.from(letters, (letter) => letter.charCodeAt(0)));
  } catch {
    return undefined;
  }
}
