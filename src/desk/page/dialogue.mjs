// The browser's own print dialogue, on papers that the program made.

import { made } from "./words.mjs";

let frame = null;

/** Opens it on a PDF. False where this browser shows none inside the page. */
export async function printed(blob, title) {
  if (!navigator.pdfViewerEnabled) return false;
  frame?.remove();
  frame = made("iframe", "", { class: "print-frame", title, tabindex: "-1", "aria-hidden": "true" });
  const address = URL.createObjectURL(blob);
  frame.src = address;
  const loaded = new Promise((resolve) => frame.addEventListener("load", resolve, { once: true }));
  document.body.append(frame);
  await loaded;
  try {
    frame.contentWindow.focus();
    frame.contentWindow.print();
    return true;
  } catch {
    return false;  // a viewer of the browser's own, which a page may not reach
  }
}
