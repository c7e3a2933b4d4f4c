// Before anything is drawn: scripts run here, and whoever comes first begins with what she has. Otherwise the
// page would jump when its modules are there (main.mjs), which take a moment longer.

document.documentElement.classList.add("with-script");
try {
  const isFirst = !location.hash && !history.state && !localStorage.getItem("pouchwright.order");
  if (isFirst) document.body.dataset.room = "start";
} catch {
  // A browser that keeps nothing.
}
