// Which language the page speaks: the browser's, or what is chosen at its foot. The page is asked for
// again in it; what is being made stays, since it is kept as it is made.
//
// Not for what a job means: that has no language.

import { byId } from "./words.mjs";

export function listenToTongue() {
  byId("tongue")?.addEventListener("change", (event) => {
    const address = new URL(location.href);
    address.search = new URLSearchParams([["language", event.target.value]]).toString();
    location.assign(address);
  });
}
