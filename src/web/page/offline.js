// The service worker of the page that a web host hands out: it answers with what the browser has kept, and asks the
// host only for what is new. Kept is what one version is made of, under its sum (site.cjs): all of it or nothing. As
// the page has all in itself, a newer version takes over at once, and is what is opened next.

const kPrefix = "pouchwright-";
const kKept = `${kPrefix}VERSION`;
const kAddresses = ["FILES"].map((name) => new URL(name, location.href).href);

addEventListener("install", (event) => {
  skipWaiting();
  event.waitUntil(caches.open(kKept).then((kept) =>
    // Past what the browser holds of the last version.
    kept.addAll(kAddresses.map((address) => new Request(address, { cache: "reload" })))));
});

addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    const names = await caches.keys();
    await Promise.all(names.filter((name) => name.startsWith(kPrefix) && name !== kKept).map((name) => caches.delete(name)));
    await clients.claim();
  })());
});

addEventListener("fetch", (event) => {
  const address = event.request.url.replace(/[?#].*$/, "");
  if (event.request.method !== "GET" || !kAddresses.includes(address)) return;
  event.respondWith(caches.open(kKept).then((kept) => kept.match(address)).then((found) => found ?? fetch(event.request)));
});
