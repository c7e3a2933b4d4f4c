// Something taken by the pointer (mouse, pen or finger), carried over the page, and put down on something
// else.
//
//     carry(handle, { words: () => "Ada", targetOf: (element) => element.closest(".station"), onDrop });
//
// What is carried is shown beside the pointer; the target under it has the class `over`. Escape puts it back.
// Not for the keyboard: whatever can be carried can be chosen in another way as well.

import { made } from "./words.mjs";

/** Before that far, px, it is a click or a trembling hand. */
const kFromHere = 5;
/** So near to the window's edge the page moves along, px, and by so much each frame. */
const kEdge = 56;
const kPace = 12;

/** The page moves while the pointer is at the window's edge. `at()`: where it is now. */
function movePage(at, onMoved) {
  let frame = 0;
  const step = () => {
    const { y } = at();
    const by = y < kEdge ? -kPace : y > innerHeight - kEdge ? kPace : 0;
    if (by !== 0) {
      scrollBy({ top: by, behavior: "instant" });
      onMoved();
    }
    frame = requestAnimationFrame(step);
  };
  frame = requestAnimationFrame(step);
  return () => cancelAnimationFrame(frame);
}

/** `targetOf(element)`: what of the page that element belongs to that it may be put down on, or null. */
export function carry(handle, { words, targetOf, onDrop, onState = () => {} }) {
  handle.addEventListener("pointerdown", (down) => {
    if (!down.isPrimary || down.button !== 0) return;
    // Nothing is marked, and a finger's events keep coming here.
    down.preventDefault();
    handle.setPointerCapture(down.pointerId);
    let at = { x: down.clientX, y: down.clientY };
    let shown = null;
    let over = null;
    let stopMoving = () => {};

    function look() {
      const element = document.elementFromPoint(at.x, at.y);
      const target = element && targetOf(element);
      shown.style.translate = `${at.x + 12}px ${at.y + 12}px`;
      if (target === over) return;
      over?.classList.remove("over");
      over = target;
      over?.classList.add("over");
    }
    function move(event) {
      at = { x: event.clientX, y: event.clientY };
      if (!shown && Math.hypot(at.x - down.clientX, at.y - down.clientY) < kFromHere) return;
      if (!shown) {
        shown = made("div", words(), { class: "carried", "aria-hidden": "true" });
        document.body.append(shown);
        onState(true);
        stopMoving = movePage(() => at, look);
      }
      look();
    }
    function end(isDropped) {
      listening.abort();
      stopMoving();
      shown?.remove();
      over?.classList.remove("over");
      if (shown) onState(false);
      if (isDropped && over) onDrop(over);
    }
    const listening = new AbortController();
    const { signal } = listening;
    handle.addEventListener("pointermove", move, { signal });
    handle.addEventListener("pointerup", () => end(true), { signal });
    handle.addEventListener("pointercancel", () => end(false), { signal });
    handle.addEventListener("lostpointercapture", () => end(false), { signal });
    document.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      event.preventDefault();
      event.stopPropagation();
      end(false);
    }, { signal, capture: true });
  });
}
