// Where the page comes from a web host: has the browser keep it (offline.js). One that keeps nothing goes on without.
navigator.serviceWorker?.register("offline.js").catch(() => {});
