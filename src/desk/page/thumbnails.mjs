// The pages of a paper, small; those that come into sight are asked for, and a click shows one large.

import { button, showPicture } from "./reports.mjs";
import { made, say } from "./words.mjs";

/** Pages that are asked for in one request: what makes one of them makes all. */
const kAtOnce = 12;

/** Calls `loads` with the numbers of those that come into sight, some at a time. */
function whenSeen(items, loads, signal) {
  const seen = [];
  let running = false;
  const run = async () => {
    if (running) return;
    running = true;
    try {
      while (seen.length > 0 && !signal.aborted) await loads(seen.splice(0, kAtOnce));
    } catch (failure) {
      if (failure.name !== "AbortError") throw failure;
    }
    running = false;
  };
  const observer = new IntersectionObserver((entries) => {
    for (const entry of entries) {
      if (!entry.isIntersecting) continue;
      observer.unobserve(entry.target);
      seen.push(items.indexOf(entry.target) + 1);
    }
    seen.sort((a, b) => a - b);
    run();
  }, { rootMargin: "200px" });
  for (const item of items) observer.observe(item);
  signal.addEventListener("abort", () => observer.disconnect());
}

export function thumbnails() {
  const list = made("ol", "", { class: "thumbs", "aria-label": say("desk-print-pages") });
  const large = made("dialog", "", { class: "large-page", "aria-label": say("desk-print-large") });
  large.append(made("img", "", { alt: "" }), button(say("desk-print-close"), () => large.close()));

  function enlarge(image, name) {
    if (!image.src) return;
    const shown = large.querySelector("img");
    shown.src = image.src;
    shown.alt = name;
    large.showModal();
  }

  function thumbnail({ width_mm: width, height_mm: height }, number, count) {
    const item = made("li", "");
    // The room that a page needs, before it is there.
    const size = width ? { width: Math.round(width), height: Math.round(height) } : {};
    const image = made("img", "", { alt: "", ...size });
    const name = say("desk-print-page", { number, count });
    const open = button("", () => enlarge(image, name), { class: "thumb", "aria-label": name });
    open.append(image, made("span", String(number)));
    item.append(open);
    return item;
  }

  return {
    parts: [list, large],
    /** What is there is old. */
    wait() {
      list.classList.add("working");
      if (list.children.length === 0) list.append(made("li", say("desk-plan-working"), { class: "waiting" }));
    },
    clear: () => list.replaceChildren(),
    close: () => large.open && large.close(),
    /** `pictures(numbers)` resolves to their pictures, from page 1. */
    show(pages, pictures, signal) {
      list.classList.remove("working");
      const items = pages.map((page, index) => thumbnail(page, index + 1, pages.length));
      list.replaceChildren(...items);
      whenSeen(items, async (numbers) => {
        const all = await pictures(numbers);
        await Promise.all(all.map((blob, index) => blob && showPicture(items[numbers[index] - 1].querySelector("img"), blob)));
      }, signal);
    },
  };
}
